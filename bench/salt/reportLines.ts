import { quantile, shareOf } from '../../lib/score/statistics.ts';
import { type ComparedMonth, errorOf, isHeld } from '../../tests/support/saltTruth.ts';

/** What is told of companies' accounts beside the truth: of each company's all its regions' months. */
export function reportLines(companies: readonly (readonly ComparedMonth[])[]): string[] {
  const all = companies.flat();
  const errors = all.map((month) => Math.abs(errorOf(month)));
  const biases = companies.map(biasOf);
  const halfWidths = all.map(({ account: { saltLb } }) => (saltLb.high - saltLb.low) / 2 / saltLb.value);
  const held = companies.map((months) => shareOf(months, isHeld) ?? 0);
  const line = (what: string, share: number | null) =>
    `  ${what.padEnd(58)} ${share === null ? '-'.padStart(8) : `${(100 * share).toFixed(2)} %`.padStart(8)}`;
  return [
    line('error of a region’s month, worst', quantile(errors, 1)),
    line('  95th percentile', quantile(errors, 0.95)),
    line('  median', quantile(errors, 0.5)),
    line('error of a whole company’s months together, mean', mean(biases)),
    line('  worst', quantile(biases.map(Math.abs), 1)),
    line('half of the 80 % interval over the value, median', quantile(halfWidths, 0.5)),
    line('80 % intervals that hold the truth', shareOf(all, isHeld)),
    line('  standard error of that, companies being independent', standardError(held)),
  ];
}

function biasOf(months: readonly ComparedMonth[]): number {
  const sum = (of: (month: ComparedMonth) => number) => months.reduce((total, month) => total + of(month), 0);
  return sum(({ account }) => account.saltLb.value) / sum(({ trueLb }) => trueLb) - 1;
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** Of the mean; null of a single one. */
function standardError(values: readonly number[]): number | null {
  if (values.length < 2) return null;
  const middle = mean(values);
  const squares = values.reduce((sum, value) => sum + (value - middle) ** 2, 0);
  return Math.sqrt(squares / (values.length - 1) / values.length);
}
