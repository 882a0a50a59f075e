import type { AlertActName } from '../../shared/events.ts';
import type { Fact, Question, Regeneration, Settings } from '../../shared/facts.ts';
import { keysOf } from '../../shared/records.ts';

/** Words that a fact may hold, each written as one byte: its place in the list. Records, so that none can be left out. */
const KINDS = keysOf({
  'flow-day': 0,
  regeneration: 0,
  settings: 0,
  'salt-level': 0,
  power: 0,
  'service-visit': 0,
  away: 0,
  'at-home': 0,
  'alert-act': 0,
  question: 0,
} satisfies Record<Fact['kind'], 0>);
const TRIGGERS = keysOf({ metered: 0, manual: 0, override: 0, unknown: 0 } satisfies Record<
  Regeneration['trigger'],
  0
>);
const MODES = keysOf({ service: 0, setup: 0 } satisfies Record<NonNullable<Settings['mode']>, 0>);
const STEPS = keysOf({ asked: 0, 'not-sure': 0 } satisfies Record<Question['step'], 0>);
const ACTS = keysOf({
  acknowledge: 0,
  unacknowledge: 0,
  shelve: 0,
  unshelve: 0,
  'remove-from-service': 0,
  'return-to-service': 0,
} satisfies Record<AlertActName, 0>);

/** More than all that a fact takes beside its texts. */
const WITHOUT_TEXTS_BYTES = 256;
const FIRST_BYTES = 1 << 16;

/** Writes facts and numbers one after the other, to be read by a {@link FactReader} in the same order. */
export class FactWriter {
  #bytes = Buffer.allocUnsafeSlow(FIRST_BYTES);
  #view = viewOf(this.#bytes);
  #used = 0;

  /** What has been written: valid until more is. */
  get bytes(): Buffer<ArrayBuffer> {
    return this.#bytes.subarray(0, this.#used);
  }

  get size(): number {
    return this.#used;
  }

  /** Begins anew. */
  clear(): void {
    this.#used = 0;
  }

  number(value: number): void {
    this.#reserve(8);
    this.#number(value);
  }

  fact(fact: Fact): void {
    this.#reserve(WITHOUT_TEXTS_BYTES);
    this.#oneOf(KINDS, fact.kind);
    this.#text(fact.id);
    this.#number(fact.time);
    this.#number(fact.known);
    this.#number(fact.at);
    switch (fact.kind) {
      case 'flow-day':
        this.#number(fact.date);
        this.#number(fact.gallons);
        this.#optional(fact.peakGpm);
        this.#optional(fact.flowHours);
        this.#optional(fact.longestFlowMinutes);
        this.#optional(fact.registerGallons);
        return;
      case 'regeneration':
        this.#oneOf(TRIGGERS, fact.trigger);
        this.#optional(fact.durationMinutes);
        this.#optional(fact.saltBeforeLb);
        this.#optional(fact.saltAfterLb);
        this.#optional(fact.brineGallons);
        this.#optional(fact.waterGallons);
        this.#optional(fact.gallonsSince);
        return;
      case 'settings':
        this.#number(fact.hardnessGpg);
        this.#number(fact.capacityGrains);
        this.#number(fact.regenerationHour);
        this.#optional(fact.clockMinutes);
        this.#optional(fact.saltDoseLb);
        if (this.#present(fact.mode)) this.#oneOf(MODES, fact.mode);
        return;
      case 'salt-level':
        this.#number(fact.lb);
        return;
      case 'power':
        this.#number(fact.lostAt);
        this.#number(fact.restoredAt);
        this.#byte(fact.settingsKept ? 1 : 0);
        return;
      case 'service-visit':
        this.#text(fact.technician);
        this.#texts(fact.findings);
        this.#texts(fact.work);
        if (this.#present(fact.parts)) this.#texts(fact.parts);
        this.#optional(fact.saltAddedLb);
        this.#optional(fact.rawHardnessGpg);
        this.#optional(fact.coldHardnessGpg);
        this.#optional(fact.hotHardnessGpg);
        if (this.#present(fact.notes)) this.#text(fact.notes);
        return;
      case 'away':
      case 'at-home':
        this.#number(fact.from);
        this.#number(fact.to);
        return;
      case 'alert-act':
        this.#oneOf(ACTS, fact.act);
        this.#text(fact.by);
        if (this.#present(fact.alertId)) this.#text(fact.alertId);
        this.#optional(fact.until);
        return;
      case 'question':
        this.#oneOf(STEPS, fact.step);
    }
  }

  #byte(value: number): void {
    this.#bytes[this.#used++] = value;
  }

  #number(value: number): void {
    this.#view.setFloat64(this.#used, value, true);
    this.#used += 8;
  }

  #present<Value>(value: Value | undefined): value is Value {
    this.#byte(value === undefined ? 0 : 1);
    return value !== undefined;
  }

  #optional(value: number | undefined): void {
    if (this.#present(value)) this.#number(value);
  }

  #oneOf<Word>(words: readonly Word[], word: Word): void {
    this.#byte(words.indexOf(word));
  }

  /** A byte a character if all are below 256, else two, as UTF-8 has nothing for half of a surrogate pair. */
  #text(text: string): void {
    const { length } = text;
    this.#reserve(2 * length + WITHOUT_TEXTS_BYTES);
    const start = this.#used + 4;
    const bytes = this.#bytes;
    let wide = 0;
    for (let index = 0; index < length; index++) {
      const code = text.charCodeAt(index);
      wide |= code;
      bytes[start + index] = code;
    }
    const isWide = wide > 255;
    this.#view.setUint32(this.#used, length * 2 + (isWide ? 1 : 0), true);
    if (isWide) bytes.write(text, start, 'utf16le');
    this.#used = start + (isWide ? 2 * length : length);
  }

  #texts(texts: readonly string[]): void {
    this.#number(texts.length);
    for (const text of texts) this.#text(text);
  }

  /** Makes room for so many bytes and, after a text, for all else. */
  #reserve(bytes: number): void {
    if (this.#used + bytes <= this.#bytes.length) return;
    const larger = Buffer.allocUnsafeSlow(2 * (this.#used + bytes));
    larger.set(this.#bytes.subarray(0, this.#used));
    this.#bytes = larger;
    this.#view = viewOf(larger);
  }
}

/** Reads what a {@link FactWriter} has written. */
export class FactReader {
  readonly #bytes: Buffer;
  readonly #view: DataView;
  /** Where it reads on. */
  at = 0;

  constructor({ buffer, byteOffset, length }: Uint8Array<ArrayBuffer>) {
    this.#bytes = Buffer.from(buffer, byteOffset, length);
    this.#view = viewOf(this.#bytes);
  }

  number(): number {
    const value = this.#view.getFloat64(this.at, true);
    this.at += 8;
    return value;
  }

  /** The fact as it was, with the members that `toFact` gives it in their order, so that facts of a kind are all alike. */
  fact(): Fact {
    const kind = this.#oneOf(KINDS);
    const id = this.#text();
    const time = this.number();
    const known = this.number();
    const at = this.number();
    switch (kind) {
      case 'flow-day':
        return {
          kind,
          id,
          time,
          known,
          at,
          date: this.number(),
          gallons: this.number(),
          peakGpm: this.#optional(),
          flowHours: this.#optional(),
          longestFlowMinutes: this.#optional(),
          registerGallons: this.#optional(),
        };
      case 'regeneration':
        return {
          kind,
          id,
          time,
          known,
          at,
          trigger: this.#oneOf(TRIGGERS),
          durationMinutes: this.#optional(),
          saltBeforeLb: this.#optional(),
          saltAfterLb: this.#optional(),
          brineGallons: this.#optional(),
          waterGallons: this.#optional(),
          gallonsSince: this.#optional(),
        };
      case 'settings':
        return {
          kind,
          id,
          time,
          known,
          at,
          hardnessGpg: this.number(),
          capacityGrains: this.number(),
          regenerationHour: this.number(),
          clockMinutes: this.#optional(),
          saltDoseLb: this.#optional(),
          mode: this.#byte() ? this.#oneOf(MODES) : undefined,
        };
      case 'salt-level':
        return { kind, id, time, known, at, lb: this.number() };
      case 'power':
        return {
          kind,
          id,
          time,
          known,
          at,
          lostAt: this.number(),
          restoredAt: this.number(),
          settingsKept: this.#byte() === 1,
        };
      case 'service-visit':
        return {
          kind,
          id,
          time,
          known,
          at,
          technician: this.#text(),
          findings: this.#texts(),
          work: this.#texts(),
          parts: this.#byte() ? this.#texts() : undefined,
          saltAddedLb: this.#optional(),
          rawHardnessGpg: this.#optional(),
          coldHardnessGpg: this.#optional(),
          hotHardnessGpg: this.#optional(),
          notes: this.#byte() ? this.#text() : undefined,
        };
      case 'away':
        return { kind, id, time, known, at, from: this.number(), to: this.number() };
      case 'at-home':
        return { kind, id, time, known, at, from: this.number(), to: this.number() };
      case 'alert-act':
        return {
          kind,
          id,
          time,
          known,
          at,
          act: this.#oneOf(ACTS),
          by: this.#text(),
          alertId: this.#byte() ? this.#text() : undefined,
          until: this.#optional(),
        };
      case 'question':
        return { kind, id, time, known, at, step: this.#oneOf(STEPS) };
    }
  }

  #byte(): number {
    return this.#bytes[this.at++] ?? 0;
  }

  #optional(): number | undefined {
    return this.#byte() ? this.number() : undefined;
  }

  #oneOf<Word>(words: readonly Word[]): Word {
    const word = words[this.#byte()];
    if (word === undefined) throw new RangeError('these bytes are no facts, or of another version');
    return word;
  }

  #text(): string {
    const header = this.#view.getUint32(this.at, true);
    const isWide = header % 2 === 1;
    const start = this.at + 4;
    this.at = start + (isWide ? header - 1 : header / 2);
    return this.#bytes.toString(isWide ? 'utf16le' : 'latin1', start, this.at);
  }

  #texts(): string[] {
    const texts: string[] = [];
    for (let left = this.number(); left > 0; left--) texts.push(this.#text());
    return texts;
  }
}

function viewOf({ buffer, byteOffset, length }: Buffer): DataView {
  return new DataView(buffer, byteOffset, length);
}
