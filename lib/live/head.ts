import type { Fact } from '../../shared/facts.ts';
import type { Unit } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';
import type { FoldRules } from '../unit/foldRules.ts';
import { newUnitState, type UnitState } from '../unit/state.ts';
import type { Episode } from '../watch/episode.ts';

/** Where a fact stands in a unit's story: as much of it as its order hangs on. */
export type Place = Pick<Fact, 'kind' | 'at' | 'time' | 'id'>;

/** A fact that has been folded: its event's id, and when the copy that stood was first known. */
export type JournalEntry = readonly [id: string, known: Instant];

/** That a unit has been taken out of service, by whom and since when. */
export interface OutOfService {
  readonly by: string;
  readonly at: Instant;
  /** When it comes back by itself; null: when somebody says so. */
  readonly until: Instant | null;
}

/**
 * All that the service keeps of a unit, as of the instant up to which facts are known: plain data, of a size that does
 * not grow with its history. A head that is put away is a checkpoint; each names the one before, so that a late fact
 * finds its way back as far as it must and no further.
 */
export interface Head {
  /** The fold of every fact known so far. */
  readonly state: UnitState;
  readonly open: readonly Episode[];
  /** Episodes that are over, as long as they can come back or be explained by a visit; in the order of their ends. */
  readonly recent: readonly Episode[];
  readonly outOfService: OutOfService | null;
  /** The latest instant at which a fact became known or a noon changed something; null before the first fact. */
  readonly knownUntil: Instant | null;
  /** The furthest place in the story that a folded fact takes. */
  readonly place: Place | null;
  /** The first local day of which there is a flow day. */
  readonly firstDate: LocalDate | null;
  /** The facts folded since the checkpoint before, in the order in which they became known. */
  readonly journal: readonly JournalEntry[];
  /** The key of the checkpoint before; null at the beginning. */
  readonly previous: string | null;
}

/** A unit of which nothing is known but its registry record. */
export function newHead(unit: Unit, rules: FoldRules): Head {
  return {
    state: newUnitState(unit, rules),
    open: [],
    recent: [],
    outOfService: null,
    knownUntil: null,
    place: null,
    firstDate: null,
    journal: [],
    previous: null,
  };
}
