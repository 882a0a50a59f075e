/** A font as a data URL: of a test's bundler for `?inline`, and of the build's by its loader. */
declare module '*.woff?inline' {
  const dataUrl: string;
  export default dataUrl;
}
