import type { Instant } from '../../shared/time/instant.ts';
import type { Chance } from './chance.ts';
import type { FaultCourse } from './faultCourse.ts';
import type { Happening } from './happening.ts';
import type { UnitPlan } from './plan.ts';
import { BAG_LB } from './saltTank.ts';
import type { Softener } from './softener.ts';
import { STALLS } from './stalls.ts';
import type { Telemetry } from './telemetry.ts';
import { SHORTEST_ABSENCE_DAYS } from './truth.ts';
import type { TruthLog } from './truthLog.ts';
import type { Span } from './waterUse.ts';

/** Local hours of what people do. Invented. */
const HOUR_OF = { refill: 10, checkUp: 11, word: 19 } as const;
/** How often a day; from common sense, no source. In vain: salt put in while that mends nothing. */
const A_DAY = { checkUp: 0.1 / 365, saltInVain: 0.02 } as const;
/** What goes into a tank of unknown size, lb. */
const USUAL_TANK_LB = 250;

/** The unit that people live with, or look after. */
interface LivedWith {
  readonly plan: UnitPlan;
  readonly softener: Softener;
  readonly telemetry: Telemetry;
  readonly truth: TruthLog;
  readonly fault: FaultCourse;
  readonly chance: Chance;
  readonly regenerateByHand: (time: Instant) => void;
}

/** What the household and the company do with a unit, but for mending its fault, and what they say. */
export class People {
  readonly #unit: LivedWith;
  readonly #announced: ReadonlyMap<number, Span>;

  constructor(unit: LivedWith) {
    this.#unit = unit;
    const announced = unit.plan.use.absences.filter(
      ({ first, last }) => last - first + 1 >= SHORTEST_ABSENCE_DAYS && unit.chance.happens(STALLS.announced),
    );
    // The evening before.
    this.#announced = new Map(announced.map((span) => [span.first - 1, span]));
  }

  /** What they do on a day. */
  on(day: number): Happening[] {
    const { plan, softener, telemetry, truth, fault, chance, regenerateByHand } = this.#unit;
    const happenings: Happening[] = [];
    const at = (hour: number, happen: (time: Instant) => void) => happenings.push({ hour, happen });

    at(HOUR_OF.refill, () => this.#lookAfterSalt(day));
    if (chance.happens(A_DAY.checkUp) && !fault.isOn) {
      at(HOUR_OF.checkUp, (time) =>
        telemetry.visit(time, { findings: [], work: ['routine check'], saltAddedLb: 0 }),
      );
    }
    const { byHandADay, registered } = softener.condition;
    if (byHandADay > 0 && chance.happens(byHandADay)) {
      at(chance.whole(9, 20), (time) => {
        truth.shown(plan.start + day);
        regenerateByHand(time);
      });
    }
    const absence = this.#announced.get(day);
    if (absence) at(HOUR_OF.word, (time) => this.#tell(time, 'away', absence));
    const isStalled = registered === 0 && fault.isTelling(day);
    if (isStalled && chance.happens(STALLS.noticed)) {
      at(HOUR_OF.word, (time) => this.#tell(time, 'at-home', { first: day, last: day }));
    }
    return happenings;
  }

  #lookAfterSalt(day: number): void {
    const { softener, fault, truth, chance } = this.#unit;
    const { tank, condition, profile } = softener;
    if (condition.refilled) tank.lookAfter(day, profile.saltDoseLb, chance);
    if (!fault.invitesSalt || !chance.happens(A_DAY.saltInVain)) return;
    const bags = chance.whole(1, 2);
    if (tank.lb + bags * BAG_LB > (profile.saltTankLb ?? USUAL_TANK_LB)) return;
    tank.add(bags);
    truth.confounder('salt-in-vain', { first: day, last: day });
  }

  #tell(time: Instant, who: 'away' | 'at-home', { first, last }: Span): void {
    const { plan, telemetry } = this.#unit;
    telemetry.presence(time, who, plan.start + first, plan.start + last);
  }
}
