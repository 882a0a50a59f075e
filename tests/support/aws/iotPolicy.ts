import type { PolicyDocument, PolicyStatement } from '../../../infra/aws/stacks/meterPolicies.ts';

/** What the broker knows of a connection when it looks a policy up. */
export interface Connection {
  /** By variable, as `iot:Connection.Thing.ThingName`; what is not known is missing. */
  readonly variables: Readonly<Record<string, string>>;
  /** What is asked for with CONNECT: `PersistentConnect`, `LastWill`. */
  readonly connectAttributes?: readonly string[];
}

/**
 * Whether a policy of AWS IoT Core allows an action on a resource, by the rules of its Developer Guide ("AWS IoT Core policies",
 * "Using wildcard characters in MQTT and AWS IoT Core policies"): an Allow that fits and no Deny; `*` any characters, `?` any
 * one, `+` and `#` themselves; a statement with a variable that is not known fits nothing. What a variable stands for is taken
 * as a pattern too, which allows no less than AWS does.
 */
export function allows(
  policy: PolicyDocument,
  connection: Connection,
  action: string,
  resource: string,
): boolean {
  const fitting = policy.Statement.filter((statement) => fits(statement, connection, action, resource));
  return fitting.some(({ Effect }) => Effect === 'Allow') && !fitting.some(({ Effect }) => Effect === 'Deny');
}

function fits(statement: PolicyStatement, connection: Connection, action: string, resource: string): boolean {
  return (
    statement.Action.some((pattern) => matches(pattern, action)) &&
    statement.Resource.some((pattern) => {
      const filled = fill(pattern, connection.variables);
      return filled !== undefined && matches(filled, resource);
    }) &&
    Object.entries(statement.Condition ?? {}).every(([operator, keys]) =>
      Object.entries(keys).every(([key, wanted]) => holds(operator, key, wanted, connection)),
    )
  );
}

function holds(operator: string, key: string, wanted: readonly string[], connection: Connection): boolean {
  switch (operator) {
    case 'Bool': {
      const value = connection.variables[key];
      return value !== undefined && wanted.includes(value);
    }
    case 'ForAllValues:StringEquals':
      if (key !== 'iot:ConnectAttributes') break;
      return (connection.connectAttributes ?? []).every((value) => wanted.includes(value));
  }
  throw new Error(`no rule for ${operator} of ${key}: add it`);
}

/** A pattern with its variables filled in; undefined if one is not known. */
function fill(pattern: string, variables: Connection['variables']): string | undefined {
  let isKnown = true;
  const filled = pattern.replace(/\$\{([^}]+)\}/g, (_, name: string) => {
    const value = variables[name];
    if (value === undefined) isKnown = false;
    return value ?? '';
  });
  return isKnown ? filled : undefined;
}

function matches(pattern: string, text: string): boolean {
  const source = pattern
    .replace(/[.+^${}()|[\]\\]/g, '\\$&')
    .replaceAll('*', '.*')
    .replaceAll('?', '.');
  return new RegExp(`^${source}$`, 's').test(text);
}
