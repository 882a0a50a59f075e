// What an answer of `npm audit --json` comes to.

/** Severities of npm's advisories that stop a release. */
const STOPPING = ['high', 'critical'];

/**
 * @param {string} output what npm wrote
 * @returns {{ status: 0 | 1 | 2, words: string }} 0: nothing stops; 1: something does; 2: nobody could be asked
 */
export function auditVerdict(output) {
  const report = readJson(output);
  const counts = report?.metadata?.vulnerabilities;
  if (!counts) {
    const why = report?.message ?? report?.error?.summary ?? 'npm gave no report';
    return {
      status: 2,
      words: `Nothing is known: the registry did not answer (${withoutAddresses(String(why))}). Run it where one answers audits.`,
    };
  }
  const found = STOPPING.flatMap((severity) =>
    counts[severity] > 0 ? [`${counts[severity]} ${severity}`] : [],
  );
  const names = Object.values(report.vulnerabilities ?? {})
    .filter(({ severity }) => STOPPING.includes(severity))
    .map(({ name, severity, range }) => `  ${severity}: ${name} ${range}`);
  if (found.length > 0) return { status: 1, words: [`Found: ${found.join(', ')}.`, ...names].join('\n') };
  return { status: 0, words: `Nothing high or critical among ${counts.total} findings.` };
}

/** @param {string} text */
function readJson(text) {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

/** @param {string} text */
function withoutAddresses(text) {
  return text.replaceAll(/\bhttps?:\/\/\S+/g, 'its address');
}
