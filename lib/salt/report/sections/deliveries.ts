import { compareText } from '../../../../shared/compareText.ts';
import { formatLocalDate } from '../../../../shared/time/localDate.ts';
import { dated } from '../../../brief/dated.ts';
import { shortened } from '../../../brief/shortened.ts';
import { Z_OF_80_PERCENT } from '../../../estimate/interval.ts';
import type { ByRate, Delivery } from '../../deliveries/delivery.ts';
import type { DatedHouse } from '../../deliveries/deliveryPlan.ts';
import { counted, inSteps, stepOf, stepOfSum } from '../../rounding.ts';
import { type Block, type Section, table, text } from '../content.ts';
import type { Subject, ToBring } from '../given.ts';
import { partOf, type Quantity } from '../quantity.ts';

/** Houses that are listed one by one; the list of deliveries itself has all. */
const MOST_LISTED = 40;
/** Longer names are cut, characters. */
const MOST_OF_NAME = 40;
/** Bags that one house uses in a week are told to a tenth. */
const BAGS_STEP = 0.1;

/** Houses that need salt within four weeks of the day that the report is of; nothing where that is not known, or shared. */
export function deliveries({ deliveries: toBring, region, isShared, quantities }: Subject): Section[] {
  if (!toBring || isShared) return [];
  const how = { toBring, mass: quantities.mass };
  const due = toBring.houses.filter((each) => each.region === region);
  const undated = toBring.byRate.filter((each) => each.region === region);
  const blocks = [
    ...(due.length === 0
      ? [text('Of the houses whose tanks are known, none needs salt within the next four weeks.')]
      : datedBlocks(due, how)),
    ...(undated.length === 0 ? [] : undatedBlocks(undated, how)),
  ];
  return [{ id: 'deliveries', title: 'Salt to bring in the next four weeks', blocks }];
}

interface How {
  readonly toBring: ToBring;
  readonly mass: Quantity;
}

function datedBlocks(due: readonly DatedHouse[], { toBring, mass }: How): Block[] {
  const { weeks } = toBring;
  const rounds = [...new Set(due.map(({ round }) => round))].sort(
    (a, b) => Number(a === null) - Number(b === null) || compareText(a ?? '', b ?? ''),
  );
  const counts = (some: readonly DatedHouse[]) =>
    weeks.map(({ week }) => counted(some.filter((each) => each.week === week).length));
  const level = ({ levelLb, levelDeviationLb }: Delivery) => {
    const half = Z_OF_80_PERCENT * levelDeviationLb * mass.factor;
    const step = stepOf({ low: -half, high: half }) ?? stepOfSum(levelLb * mass.factor);
    return `${inSteps(Math.max(0, levelLb) * mass.factor, Math.max(1, step))} ${mass.unit}`;
  };
  return [
    table({
      caption: 'Houses by the week until which salt should be brought',
      columns: [
        { head: 'Round', share: 0.3 },
        ...weeks.map(({ from, to }) => ({
          head: from === null ? 'late already' : `by ${shortDate(to)}`,
          share: 0.14,
          isNumber: true,
        })),
      ],
      rows: [
        ...rounds.map((round) => [
          round ?? 'no round on record',
          ...counts(due.filter((each) => each.round === round)),
        ]),
        ['All', ...counts(due)],
      ],
      hasTotal: true,
    }),
    table({
      caption: 'The first of them',
      columns: [
        { head: 'House', share: 0.3 },
        { head: 'Round', share: 0.2 },
        { head: 'Bring by', share: 0.2 },
        { head: 'In the tank', share: 0.14, isNumber: true },
        { head: 'Room for', share: 0.16, isNumber: true },
      ],
      rows: due
        .slice(0, MOST_LISTED)
        .map((each) => [
          nameOf(each, toBring),
          each.round ?? '–',
          each.week === 0 ? `${shortDate(each.by)}, late` : shortDate(each.by),
          level(each),
          each.roomLb === null ? 'not known' : `${inSteps(each.roomLb * mass.factor, 1)} ${mass.unit}`,
        ]),
    }),
    ...more(due.length),
    text('The day is the last on which a delivery still comes in time with 90 %.', 'quiet'),
  ];
}

/** Houses that use salt and have no date, those that use most first. */
function undatedBlocks(undated: readonly ByRate[], { toBring, mass }: How): Block[] {
  const { bagLb } = toBring;
  const sum = undated.reduce((lb, { lbPerWeek }) => lb + lbPerWeek, 0);
  const one = undated.length === 1;
  return [
    text(
      `${counted(undated.length)} ${one ? 'house' : 'houses'} without a date ${one ? 'uses' : 'use'} ${partOf(sum, mass)} (about ${bagsOf(sum, bagLb)}) a week. Nothing is known of how full ${one ? 'its tank is' : 'their tanks are'}, so ${one ? 'it is' : 'they are'} in no week above, and may need salt in any.`,
    ),
    table({
      caption: 'Houses without a date, by what they use',
      columns: [
        { head: 'House', share: 0.4 },
        { head: 'Round', share: 0.24 },
        { head: 'Uses a week', share: 0.18, isNumber: true },
        { head: 'Bags a week', share: 0.18, isNumber: true },
      ],
      rows: undated
        .toSorted((a, b) => b.lbPerWeek - a.lbPerWeek || compareText(a.unitId, b.unitId))
        .slice(0, MOST_LISTED)
        .map((each) => [
          nameOf(each, toBring),
          each.round ?? '–',
          partOf(each.lbPerWeek, mass),
          inSteps(each.lbPerWeek / bagLb, BAGS_STEP),
        ]),
    }),
    ...more(undated.length),
  ];
}

/** By its site's name, where one is known. */
function nameOf({ unitId }: { unitId: string }, { siteNameOf }: ToBring): string {
  return shortened(siteNameOf?.(unitId) ?? unitId, MOST_OF_NAME);
}

function more(count: number): Block[] {
  return count > MOST_LISTED
    ? [
        text(
          `And ${counted(count - MOST_LISTED)} more ${count - MOST_LISTED === 1 ? 'house' : 'houses'}: see the list of deliveries.`,
          'quiet',
        ),
      ]
    : [];
}

/** `1 bag`, `16 bags`; whole ones, or a part of one. */
function bagsOf(lb: number, bagLb: number): string {
  const bags = Math.round(lb / bagLb);
  return bags === 0 ? 'less than a bag' : `${counted(bags)} ${bags === 1 ? 'bag' : 'bags'}`;
}

function shortDate(date: number): string {
  return dated(formatLocalDate(date)).slice(0, -5);
}
