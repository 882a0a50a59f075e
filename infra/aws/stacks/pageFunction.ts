/**
 * Runs at the edge, before the bucket is asked: a page of the console has an address of its own (`/units/u-17.b`), and
 * is the one page that there is. Files are those of `/assets/` and those at the top with a dot in their name.
 */
export const PAGE_FUNCTION = `function handler(event) {
  var request = event.request;
  var isFile = /^\\/(assets\\/.*|[^/]*\\.[^/]*)$/.test(request.uri);
  if (!isFile) request.uri = '/index.html';
  return request;
}
`;
