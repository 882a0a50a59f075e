/**
 * Stands in a bundle, for the library of routes, for the one that makes OpenAPI documents: routes are noted here, and what
 * makes the document of them is loaded when that is asked for (`functions/api/openApiDocument.ts`). The whole of zod too,
 * which is taken along to be extended: that is for schemas made in that library's way, and none of ours is.
 */
export class OpenAPIRegistry {
  /** @type {object[]} */
  definitions = [];

  /** @param {object} route */
  registerPath(route) {
    this.definitions.push({ type: 'route', route });
  }

  /**
   * @param {string} componentType
   * @param {string} name
   * @param {object} component
   */
  registerComponent(componentType, name, component) {
    this.definitions.push({ type: 'component', componentType, name, component });
  }
}

export const z = {};

export function extendZodWithOpenApi() {}

export function getOpenApiMetadata() {
  return {};
}

/** Nobody makes it here. */
export class OpenApiGeneratorV3 {}
export class OpenApiGeneratorV31 {}
