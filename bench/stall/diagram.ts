import type { Bin } from '../../lib/score/statistics.ts';

const SIZE = 360;
const MARGIN = 56;
const FULL = SIZE + 2 * MARGIN;
const TICKS = [0, 0.2, 0.4, 0.6, 0.8, 1];

/**
 * What was said against what was so, as a picture in SVG: points on the diagonal are calibrated, and the larger they
 * are the more often it was said.
 */
export function diagram(bins: readonly Bin[], title: string): string {
  const most = Math.max(1, ...bins.map(({ count }) => count));
  const points = bins.flatMap(({ count, meanProbability: said, share: was }) => {
    if (said === null || was === null) return [];
    const radius = 3 + 11 * Math.sqrt(count / most);
    const label = `${count} days: said ${said.toFixed(2)}, was ${was.toFixed(2)}`;
    return `<circle cx="${x(said)}" cy="${y(was)}" r="${radius.toFixed(1)}" fill="#2a6f97" fill-opacity="0.7"><title>${label}</title></circle>`;
  });
  const ticks = TICKS.flatMap((value) => [
    `<line x1="${x(value)}" y1="${y(0)}" x2="${x(value)}" y2="${y(0) + 5}" stroke="#555"/>`,
    `<text x="${x(value)}" y="${y(0) + 20}" text-anchor="middle">${value}</text>`,
    `<line x1="${x(0) - 5}" y1="${y(value)}" x2="${x(0)}" y2="${y(value)}" stroke="#555"/>`,
    `<text x="${x(0) - 9}" y="${y(value) + 4}" text-anchor="end">${value}</text>`,
  ]);
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${FULL} ${FULL}" font-family="sans-serif" font-size="12" fill="#222">`,
    `<rect width="${FULL}" height="${FULL}" fill="#fff"/>`,
    `<text x="${x(0.5)}" y="${MARGIN - 22}" text-anchor="middle" font-size="13">${title}</text>`,
    `<rect x="${x(0)}" y="${y(1)}" width="${SIZE}" height="${SIZE}" fill="none" stroke="#bbb"/>`,
    `<line x1="${x(0)}" y1="${y(0)}" x2="${x(1)}" y2="${y(1)}" stroke="#999" stroke-dasharray="4 4"/>`,
    ...ticks,
    ...points,
    `<text x="${x(0.5)}" y="${y(0) + 42}" text-anchor="middle">probability of a stalled meter that was said</text>`,
    `<text transform="translate(16 ${y(0.5)}) rotate(-90)" text-anchor="middle">share that was stalled</text>`,
    '</svg>\n',
  ].join('\n');
}

function x(value: number): number {
  return Math.round(10 * (MARGIN + value * SIZE)) / 10;
}

function y(value: number): number {
  return Math.round(10 * (MARGIN + (1 - value) * SIZE)) / 10;
}
