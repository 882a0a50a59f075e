import { SimulationError } from './errors.ts';
import { FAULT_NAMES, type FaultName } from './faults.ts';

/** Share of the units, 0 to 1, that get each fault. No unit gets two. */
export type FaultMix = Partial<Record<FaultName, number>>;

/**
 * Reads how faults are mixed in: `none`; `balanced` (half of the units, each fault equally often); `demo` (each at
 * 1.2 % of the units); or shares such as `meter-stalled=0.1,tank-empty=0.05`.
 *
 * @throws SimulationError `faults-unreadable`
 */
export function parseFaultMix(text: string): FaultMix {
  if (text === 'none') return {};
  if (text === 'balanced') return evenly(0.5 / FAULT_NAMES.length);
  if (text === 'demo') return evenly(0.012);
  const mix: FaultMix = {};
  for (const part of text.split(',')) {
    const [name = '', shareText = ''] = part.split('=').map((each) => each.trim());
    const share = Number(shareText);
    const known = FAULT_NAMES.find((each) => each === name);
    if (!known) throw unreadable(`"${name}" is no fault`);
    if (shareText === '' || !(share >= 0 && share <= 1))
      throw unreadable(`"${part}" gives no share from 0 to 1`);
    mix[known] = share;
  }
  const sum = Object.values(mix).reduce((total, share) => total + share, 0);
  if (sum > 1 + 1e-9) throw unreadable(`the shares come to ${sum}, more than all units`);
  return mix;
}

/** The fault of each unit, `undefined` for a healthy one: as many of each kind as the mix asks, in the mix's order. */
export function assignFaults(mix: FaultMix, units: number): (FaultName | undefined)[] {
  const faults = FAULT_NAMES.flatMap((name) =>
    new Array<FaultName>(Math.round((mix[name] ?? 0) * units)).fill(name),
  );
  return Array.from({ length: units }, (_, unit) => faults[unit]);
}

function evenly(share: number): FaultMix {
  return Object.fromEntries(FAULT_NAMES.map((name) => [name, share]));
}

function unreadable(why: string): SimulationError {
  return new SimulationError(
    'faults-unreadable',
    why,
    `Give balanced, demo, none, or KIND=SHARE,... with KIND one of ${FAULT_NAMES.join(', ')}.`,
  );
}
