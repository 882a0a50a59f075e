import { SingleBar } from 'cli-progress';

/** A bar on the terminal, where standard error is one; nothing elsewhere. */
export class Progress {
  readonly #bar: SingleBar | undefined;
  #running = false;

  constructor() {
    if (!process.stderr.isTTY) return;
    this.#bar = new SingleBar({
      stream: process.stderr,
      format: '{task} [{bar}] {percentage}% {eta_formatted}',
      hideCursor: true,
      clearOnComplete: true,
      etaBuffer: 50,
    });
  }

  /** Begins a task of so many steps; undefined if nobody knows how many, which shows no bar. */
  begin(task: string, total: number | undefined): void {
    this.end();
    if (total === undefined) {
      if (this.#bar) process.stderr.write(`${task} ...\n`);
      return;
    }
    this.#bar?.start(total, 0, { task });
    this.#running = true;
  }

  /** Says how many steps are done. */
  reach(done: number): void {
    if (this.#running) this.#bar?.update(done);
  }

  end(): void {
    if (this.#running) this.#bar?.stop();
    this.#running = false;
  }
}
