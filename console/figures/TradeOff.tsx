import { useMemo, useState } from 'react';
import { amount, convert, count, unitOf } from '../show/amounts.ts';
import { type Likings, useLikings } from '../show/Likings.tsx';
import type { Advice, Outcome } from '../unit/types.ts';
import type { FigureTable } from './drawing.ts';
import { Figure } from './Figure.tsx';
import { Legend } from './Legend.tsx';
import { drawnOf, tradeOff } from './tradeOff.ts';

type Advised = NonNullable<Advice['advice']>;

/** Hard-water days against salt: what less of the one costs of the other. */
export function TradeOff({ advice }: { advice: Advised }) {
  const likings = useLikings();
  const [cursor, setCursor] = useState<number>();
  const parts = useMemo(() => partsOf(advice, likings), [advice, likings]);
  return (
    <Figure
      title="Salt against hard-water days"
      {...parts}
      legend={
        <Legend
          items={[
            ['today-settings', 'on the control'],
            ['advised-settings', 'advised'],
            ['limit', `at most ${count(advice.mostHardDays, likings)} hard-water days a year wanted`],
            ['frontier', 'no others beat these in salt, water and hard-water days'],
          ]}
        />
      }
      cursor={cursor}
      onCursor={setCursor}
    />
  );
}

function partsOf(advice: Advised, likings: Likings) {
  const { today, advised } = advice;
  const points = [
    ...named('On the control', [today]),
    ...named('Advised', [advised]),
    ...named('', drawnOf(advice)),
  ];
  const inOrder = points.toSorted((a, b) => a.outcome.saltLbAYear - b.outcome.saltLbAYear);
  const say = (outcome: Outcome) =>
    `${amount(outcome.saltLbAYear, 'lb', likings)} of salt and ${count(outcome.hardDaysAYear, likings)} hard-water days a year`;
  return {
    summary: `On the control: ${say(today)}. Advised: ${say(advised)}.`,
    draw: tradeOff(advice),
    readings: inOrder.map(({ name, outcome }, index) => ({
      // Some use the same salt: a hair apart, so that keys reach each of them.
      at: convert(outcome.saltLbAYear, 'lb', likings) + index * 1e-6,
      words: `${name && `${name}: `}${say(outcome)}, with ${settingsInWords(outcome, likings)}`,
    })),
    table: (): FigureTable => ({
      columns: ['Settings', `Salt a year, ${unitOf('lb', likings)}`, 'Hard-water days a year', 'Which'],
      rows: inOrder.map(({ name, outcome }) => [
        settingsInWords(outcome, likings),
        count(convert(outcome.saltLbAYear, 'lb', likings), likings),
        count(outcome.hardDaysAYear, likings),
        name,
      ]),
    }),
  };
}

function named(name: string, outcomes: readonly Outcome[]) {
  return outcomes.map((outcome) => ({ name, outcome }));
}

function settingsInWords({ settings }: Outcome, likings: Likings): string {
  const { saltDoseLb, capacityGrains, hardnessGpg } = settings;
  return `a dose of ${amount(saltDoseLb, 'lb', likings)}, capacity ${amount(capacityGrains, 'grains', likings)}, hardness ${amount(hardnessGpg, 'gpg', likings)}`;
}
