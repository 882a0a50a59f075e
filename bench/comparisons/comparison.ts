/** One way of doing the work, measured several times by turns with the others of its comparison. */
export interface Measured {
  /** What was done: "replay, one thread". */
  readonly what: string;
  /** Of the numbers: "seconds of CPU", "events a second", "bytes". */
  readonly unit: string;
  /** One number a round, in the order of the rounds. */
  readonly rounds: readonly number[];
}

/** Points of a plot: one line of it. */
export interface Line {
  readonly name: string;
  readonly points: readonly {
    readonly x: number;
    readonly y: number;
    readonly low?: number;
    readonly high?: number;
  }[];
}

/** A picture of how one number hangs on another. */
export interface Plot {
  readonly title: string;
  /** What stands at the axes, with the unit in round brackets: "units", "time (s)". */
  readonly x: string;
  readonly y: string;
  readonly logarithmic: boolean;
  readonly lines: readonly Line[];
}

/** A bound that was set before, and what came out. */
export interface Bound {
  readonly what: string;
  /** As it is to be read: "at most 4 times". */
  readonly asked: string;
  /** The number, rounded for the eye, with its unit: "5.1 times". */
  readonly measured: string;
  readonly holds: boolean;
  /** Where it does not hold: what the profile says of why. */
  readonly because?: string;
}

/** What a comparison found. All of it is plain data: it is written as JSON, and drawn from that. */
export interface Found {
  readonly measured: readonly Measured[];
  readonly plots: readonly Plot[];
  readonly bounds: readonly Bound[];
  /** What a reader must know to judge the numbers, one sentence each. */
  readonly notes: readonly string[];
}

/** A comparison that anyone can run again: all its sides in one run on one machine, by turns. */
export interface Comparison {
  /** In small letters, as on the command line: "replay". */
  readonly name: string;
  /** What it asks: "How far is a replay from a pass that only parses?" */
  readonly question: string;
  /**
   * @param size `small` to see that it works, in a minute at most; `whole` for figures to be told
   * @param say tells progress, a line each
   */
  run(size: 'small' | 'whole', say: (line: string) => void): Promise<Found>;
}
