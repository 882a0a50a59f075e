/**
 * The one `<style>` that Observable Plot (0.6.17) puts into each figure: its text never changes, so its hash can be
 * allowed and no other. A test works it out from Plot's source.
 */
export const PLOT_STYLE_HASH = 'sha256-jSYQUrW7J0b3jPqhZP9C2Xh1PyJKHKXd4s0fpGGKrww=';

export interface PolicyOptions {
  /** Origins beside the console's own that it may ask, such as that of the identity provider's token endpoint. */
  readonly connect?: readonly string[] | undefined;
}

/** The content security policy of the console: nothing inline, nothing from elsewhere. */
function contentSecurityPolicy({ connect = [] }: PolicyOptions = {}): string {
  return [
    "default-src 'none'",
    "script-src 'self'",
    `style-src 'self' '${PLOT_STYLE_HASH}'`,
    "img-src 'self' data:",
    "font-src 'self'",
    ['connect-src', "'self'", ...connect].join(' '),
    "manifest-src 'self'",
    "worker-src 'self'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
    "require-trusted-types-for 'script'",
    'trusted-types brinebell',
  ].join('; ');
}

/** The headers that whoever serves the console sends with every page and file of it. */
export function consoleHeaders(options?: PolicyOptions): Readonly<Record<string, string>> {
  return {
    'content-security-policy': contentSecurityPolicy(options),
    'x-content-type-options': 'nosniff',
    // A page's address names a unit: it is nobody else's to know.
    'referrer-policy': 'same-origin',
    'cross-origin-opener-policy': 'same-origin',
  };
}
