/** Messages that came together and have fared alike since. */
export interface Cohort {
  readonly count: number;
  /** When the meter would have been done with it: what delays are counted from. Seconds. */
  readonly bornAt: number;
  /** When it was sent to this queue. */
  readonly sentAt: number;
  /** How often it has been handed out. */
  readonly receives: number;
}

/** Messages that wait to be handed out, the first come first; those that came back go before. */
export class Backlog {
  readonly #lines: readonly [again: Line, fresh: Line] = [new Line(), new Line()];
  #count = 0;

  get count(): number {
    return this.#count;
  }

  /** When the message was sent that is next. */
  get oldestSentAt(): number | undefined {
    const [again, fresh] = this.#lines;
    return again.first?.sentAt ?? fresh.first?.sentAt;
  }

  add(cohort: Cohort): void {
    if (cohort.count <= 0) return;
    const [again, fresh] = this.#lines;
    (cohort.receives > 0 ? again : fresh).add(cohort);
    this.#count += cohort.count;
  }

  /** Hands out up to `most` messages. */
  take(most: number): Cohort[] {
    const taken: Cohort[] = [];
    let left = Math.min(most, this.#count);
    this.#count -= left;
    for (const line of this.#lines) {
      while (left > 0 && line.first) {
        const some = line.take(left);
        left -= some.count;
        taken.push(some);
      }
    }
    return taken;
  }
}

/** A queue of cohorts whose front is a place in an array, so that taking moves nothing. */
class Line {
  #cohorts: Cohort[] = [];
  #from = 0;

  get first(): Cohort | undefined {
    return this.#cohorts[this.#from];
  }

  add(cohort: Cohort): void {
    this.#cohorts.push(cohort);
  }

  /** Up to `most` of the first cohort; it must not be empty. */
  take(most: number): Cohort {
    const { first } = this;
    if (!first) throw new Error('an empty line has nobody to take');
    if (first.count > most) {
      this.#cohorts[this.#from] = { ...first, count: first.count - most };
      return { ...first, count: most };
    }
    this.#from += 1;
    if (this.#from > 1024 && this.#from * 2 > this.#cohorts.length) {
      this.#cohorts = this.#cohorts.slice(this.#from);
      this.#from = 0;
    }
    return first;
  }
}

/** How many messages cohorts hold. */
export function countOf(cohorts: readonly Cohort[]): number {
  return cohorts.reduce((sum, { count }) => sum + count, 0);
}

/** Parts cohorts after the first `count` messages. */
export function partedAfter(cohorts: readonly Cohort[], count: number): [Cohort[], Cohort[]] {
  const first: Cohort[] = [];
  const rest: Cohort[] = [];
  let left = count;
  for (const cohort of cohorts) {
    const here = Math.min(left, cohort.count);
    left -= here;
    if (here > 0) first.push({ ...cohort, count: here });
    if (here < cohort.count) rest.push({ ...cohort, count: cohort.count - here });
  }
  return [first, rest];
}
