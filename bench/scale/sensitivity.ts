import { billOf } from './bill.ts';
import type { Drivers } from './drivers.ts';
import type { Measured } from './measured.ts';
import type { ByOperation } from './unitDay.ts';
import { type Usage, usageOf } from './usage.ts';

/** What one assumption moves the bill by, per cent of its total, when it turns out otherwise. */
export interface Change {
  readonly name: string;
  /** Where there is less of it, or it is mended. */
  readonly less: number;
  /** Where there is more of it; 0 if nothing else is likely. */
  readonly more: number;
}

interface Case {
  readonly measured: Measured;
  readonly drivers: Drivers;
}

interface Assumption {
  readonly name: string;
  readonly less?: (given: Case) => Usage;
  readonly more?: (given: Case) => Usage;
}

const ASSUMPTIONS: readonly Assumption[] = [
  {
    name: 'meters stay connected all day',
    more: by({ connectedMinutes: 1_440, connects: 0.1 }),
  },
  {
    name: 'a head of at most 1 KB / of over 2 KB',
    less: (given) => usageOf(withHeadUnits(given.measured, 1), given.drivers),
    more: (given) => usageOf(withHeadUnits(given.measured, 3), given.drivers),
  },
  {
    name: 'events a unit-day: a third less / half more',
    less: (given) => usageOf(withEvents(given.measured, 2 / 3), given.drivers),
    more: (given) => usageOf(withEvents(given.measured, 1.5), given.drivers),
  },
  {
    name: 'an archive file for 1,000 facts / for each',
    less: (given) => ({ ...usageOf(given.measured, given.drivers), ...filesFor(given, 1_000) }),
    more: (given) => ({ ...usageOf(given.measured, given.drivers), ...filesFor(given, 1) }),
  },
  {
    name: 'ingest sends ten units at a time',
    less: (given) => {
      const usage = usageOf(given.measured, given.drivers);
      return { ...usage, sqsFifo: usage.sqsFifo - 0.9 * usage.iotRules };
    },
  },
  { name: 'open alerts: 2 % of units / 20 %', less: by({ openShare: 0.02 }), more: by({ openShare: 0.2 }) },
  {
    name: 'changes of alerts: 0.002 a unit-day / 0.012',
    less: by({ transitionsAUnitDay: 0.002 }),
    more: by({ transitionsAUnitDay: 0.012 }),
  },
  { name: 'questions by text message: none / all', less: by({ smsShare: 0 }), more: by({ smsShare: 1 }) },
  { name: 'history kept: 3 years', more: by({ years: 3 }) },
  { name: 'a batch takes half the time / twice', less: slower(0.5), more: slower(2) },
  { name: 'memory: 512 MB at the same speed', less: by({ memoryMb: 512 }) },
  { name: 'one person for 2,000 meters / for 100', less: people(2_000), more: people(100) },
  { name: 'traces: none / of every invocation', less: by({ traced: 0 }), more: by({ traced: 1 }) },
];

/** What each assumption moves, the greatest first. */
export function sensitivity(measured: Measured, drivers: Drivers): Change[] {
  const given = { measured, drivers };
  const total = billOf(usageOf(measured, drivers)).total;
  const moved = (usage: Usage | undefined) => (usage ? (100 * (billOf(usage).total - total)) / total : 0);
  return ASSUMPTIONS.map(({ name, less, more }) => ({
    name,
    less: moved(less?.(given)),
    more: moved(more?.(given)),
  })).sort((a, b) => extent(b) - extent(a));
}

function extent({ less, more }: Change): number {
  return Math.max(Math.abs(less), Math.abs(more));
}

function by(changes: Partial<Drivers>): (given: Case) => Usage {
  return ({ measured, drivers }) => usageOf(measured, { ...drivers, ...changes });
}

function people(metersEach: number): (given: Case) => Usage {
  return ({ measured, drivers }) => usageOf(measured, { ...drivers, people: drivers.meters / metersEach });
}

function slower(factor: number): (given: Case) => Usage {
  return ({ measured, drivers }) => {
    const usage = usageOf(measured, drivers);
    return { ...usage, lambdaSeconds: usage.lambdaSeconds * factor };
  };
}

function filesFor({ measured, drivers }: Case, facts: number): Pick<Usage, 's3Puts' | 's3Gets'> {
  const files = usageOf(measured, drivers).iotRules / facts;
  return { s3Puts: files, s3Gets: files };
}

/** As if every head took so many write units. */
function withHeadUnits(measured: Measured, units: number): Measured {
  return withUnits(measured, (operations) => {
    const { putHead } = operations;
    return putHead ? { ...operations, putHead: { ...putHead, write: putHead.calls * units } } : operations;
  });
}

/** As if so many times as many events came; looks at noon stay one a day. */
function withEvents(measured: Measured, factor: number): Measured {
  const more = withUnits(measured, (operations) =>
    Object.fromEntries(
      Object.entries(operations).map(([name, { read, write, calls }]) => [
        name,
        { read: read * factor, write: write * factor, calls: calls * factor },
      ]),
    ),
  );
  const { warm, cold, faulty } = more.capacity;
  const times = <Day extends { events: number }>(day: Day): Day => ({ ...day, events: day.events * factor });
  return {
    ...more,
    capacity: { ...more.capacity, warm: times(warm), cold: times(cold), faulty: times(faulty) },
  };
}

function withUnits(measured: Measured, change: (operations: ByOperation) => ByOperation): Measured {
  const { warm, cold, faulty } = measured.capacity;
  return {
    ...measured,
    capacity: {
      ...measured.capacity,
      warm: { ...warm, units: change(warm.units) },
      cold: { ...cold, units: change(cold.units) },
      faulty: { ...faulty, units: change(faulty.units) },
    },
  };
}
