import type { Chance } from '../../../lib/simulation/chance.ts';
import { Backlog, type Cohort, countOf, partedAfter } from './backlog.ts';
import { Histogram } from './histogram.ts';
import type { Account, Environment } from './lambda.ts';
import type { StageOptions } from './stageOptions.ts';
import type { Timeline } from './timeline.ts';

/** Between a throttled invocation and the next try, at first; each later one takes twice as long. A guess, no source. */
const FIRST_PAUSE = 0.5;
/** How often it is looked whether more batches may run now. */
const TICK = 0.2;
/** After so long without messages an event source is back to its first pollers. A guess, no source. */
const REST = 300;

/** A queue, the pollers of its event source and the invocations of its function, as Amazon SQS and AWS Lambda have them. */
export class Stage {
  readonly options: StageOptions;
  /** From being sent to being done, retries and all. */
  readonly sojourn = new Histogram();
  /** From being born to being done. */
  readonly lateness = new Histogram();
  /** When the last message was done. */
  lastDoneAt = 0;
  onDone: (cohorts: readonly Cohort[]) => void = () => {};
  readonly #timeline: Timeline;
  readonly #account: Account;
  readonly #chance: Chance;
  readonly #backlog = new Backlog();
  #inFlight = 0;
  #running = 0;
  #invocations = 0;
  #busySeconds = 0;
  #level: number;
  #levelAt = 0;
  #isTicking = false;
  /** Whether messages were left waiting when it was last looked. */
  #waited = false;
  #sent = 0;
  #dead = 0;
  #cameBack = 0;
  #present = 0;
  #presentAt = 0;
  #area = 0;

  constructor(timeline: Timeline, account: Account, chance: Chance, options: StageOptions) {
    this.options = options;
    this.#timeline = timeline;
    this.#account = account;
    this.#chance = chance;
    this.#level = options.pollers.atFirst;
  }

  get waiting(): number {
    return this.#backlog.count;
  }

  /** Age of the message that is handed out next; 0 if none waits. */
  get age(): number {
    const { oldestSentAt } = this.#backlog;
    return oldestSentAt === undefined ? 0 : this.#timeline.now - oldestSentAt;
  }

  get running(): number {
    return this.#running;
  }

  get invocations(): number {
    return this.#invocations;
  }

  /** Time of all invocations together. */
  get busySeconds(): number {
    return this.#busySeconds;
  }

  get sent(): number {
    return this.#sent;
  }

  get dead(): number {
    return this.#dead;
  }

  /** Messages that came back, each time they did. */
  get cameBack(): number {
    return this.#cameBack;
  }

  /** Messages that are waiting or being handled. */
  get present(): number {
    return this.#present;
  }

  /** The number of messages present, summed over time: message-seconds. */
  get area(): number {
    return this.#area + this.#present * (this.#timeline.now - this.#presentAt);
  }

  send(count: number, bornAt: number): void {
    if (count <= 0) return;
    this.#sent += count;
    this.#change(count);
    this.#backlog.add({ count, bornAt, sentAt: this.#timeline.now, receives: 0 });
    this.#dispatch();
  }

  #dispatch(): void {
    const { batchSize, inFlightMost } = this.options;
    const allowed = this.#allowed();
    while (this.#running < allowed && this.#inFlight < inFlightMost && this.#isFilled()) {
      const batch = this.#backlog.take(Math.min(batchSize, inFlightMost - this.#inFlight));
      this.#inFlight += countOf(batch);
      this.#running += 1;
      this.#invoke(batch, this.#timeline.now, FIRST_PAUSE);
    }
    this.#waited = this.#backlog.count > 0;
    if (this.#waited && !this.#isTicking) {
      this.#isTicking = true;
      this.#timeline.at(this.#timeline.now + TICK, () => {
        this.#isTicking = false;
        this.#dispatch();
      });
    }
  }

  #isFilled(): boolean {
    const { batchSize, windowSeconds } = this.options;
    const { count } = this.#backlog;
    return count >= batchSize || (count > 0 && this.age >= windowSeconds);
  }

  /** Batches that may run at the same time by now. */
  #allowed(): number {
    const { atFirst, aSecond, most } = this.options.pollers;
    const { now } = this.#timeline;
    const passed = now - this.#levelAt;
    if (this.#waited) this.#level = Math.min(most, this.#level + passed * aSecond);
    else if (passed > REST && this.#running === 0) this.#level = Math.min(most, atFirst);
    this.#levelAt = now;
    return Math.floor(Math.min(this.#level, most));
  }

  #invoke(batch: Cohort[], receivedAt: number, pause: number): void {
    const { name, coldSeconds, visibilitySeconds } = this.options;
    const environment = this.#account.start(name);
    if (!environment) {
      const next = this.#timeline.now + pause;
      if (next < receivedAt + visibilitySeconds) {
        this.#timeline.at(next, () => this.#invoke(batch, receivedAt, pause * 2));
      } else {
        this.#running -= 1;
        this.#giveBack(batch, receivedAt);
      }
      return;
    }
    this.#invocations += 1;
    const messages = countOf(batch);
    const begun = this.#timeline.now;
    const seconds = (environment.isNew ? coldSeconds : 0) + this.options.seconds(messages, this.#chance);
    this.#timeline.at(begun + seconds, () => {
      this.#ask({ environment, receivedAt, begun, done: [], left: batch, tries: 0 });
    });
  }

  /** Takes what the messages need of what is limited; what is turned away is tried again a few times, and then fails. */
  #ask(invocation: Invocation): void {
    const { environment, left, tries } = invocation;
    const { needs, retrySeconds } = this.options;
    const { now } = this.#timeline;
    const messages = countOf(left);
    const wanted = needs.map(({ bucket, amount }) => ({ bucket, amount: amount(messages, environment) }));
    const shares = wanted.map(({ bucket, amount }) => (amount <= 0 ? 1 : bucket.available(now) / amount));
    const granted = Math.floor(messages * Math.min(1, ...shares) + 1e-9);
    for (const { bucket, amount } of wanted) bucket.take((amount * granted) / messages, now);
    environment.handled += granted;
    const [done, rest] = partedAfter(left, granted);
    invocation.done.push(...done);
    const wait = retrySeconds[tries];
    if (rest.length > 0) {
      for (const [index, { bucket, amount }] of wanted.entries()) {
        if ((shares[index] ?? 1) < 1) bucket.refuse((amount * (messages - granted)) / messages);
      }
    }
    if (rest.length === 0 || wait === undefined) this.#end(invocation, rest);
    else {
      const next = now + this.#chance.uniform(0, 2 * wait);
      this.#timeline.at(next, () => this.#ask({ ...invocation, left: rest, tries: tries + 1 }));
    }
  }

  #end({ environment, receivedAt, begun, done }: Invocation, failed: Cohort[]): void {
    const { now } = this.#timeline;
    this.#account.end(this.options.name, environment);
    this.#running -= 1;
    this.#busySeconds += now - begun;
    const count = countOf(done);
    this.#inFlight -= count;
    this.#change(-count);
    for (const cohort of done) {
      this.sojourn.add(now - cohort.sentAt, cohort.count);
      this.lateness.add(now - cohort.bornAt, cohort.count);
    }
    if (failed.length > 0) this.#giveBack(failed, receivedAt);
    if (count > 0) {
      this.lastDoneAt = now;
      this.onDone(done);
    }
    this.#dispatch();
  }

  /** What failed stays out of sight until its time is over; what was handed out too often is parked. */
  #giveBack(cohorts: Cohort[], receivedAt: number): void {
    const { visibilitySeconds, maxReceives } = this.options;
    this.#timeline.at(receivedAt + visibilitySeconds, () => {
      for (const cohort of cohorts) {
        const receives = cohort.receives + 1;
        this.#inFlight -= cohort.count;
        if (receives >= maxReceives) {
          this.#dead += cohort.count;
          this.sojourn.add(this.#timeline.now - cohort.sentAt, cohort.count);
          this.#change(-cohort.count);
        } else {
          this.#cameBack += cohort.count;
          this.#backlog.add({ ...cohort, receives });
        }
      }
      this.#dispatch();
    });
  }

  #change(by: number): void {
    const { now } = this.#timeline;
    this.#area += this.#present * (now - this.#presentAt);
    this.#present += by;
    this.#presentAt = now;
  }
}

interface Invocation {
  readonly environment: Environment;
  readonly receivedAt: number;
  readonly begun: number;
  readonly done: Cohort[];
  readonly left: Cohort[];
  readonly tries: number;
}
