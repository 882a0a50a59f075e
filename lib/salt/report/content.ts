import type { Drawing } from '../../chart/drawing.ts';
import type { MethodStep } from '../account/method.ts';

/** What a mark of a chart of the report stands for. */
export type Style = 'grid' | 'axis' | 'measured' | 'inferred' | 'imputed' | 'unparted' | 'wasted' | 'whisker';

/** A figure that stands out: its value with the unit, its 80 % interval, and what it is about. */
export interface Figure {
  readonly label: string;
  readonly value: string;
  readonly range: string | null;
  readonly note: string;
}

export interface Column {
  readonly head: string;
  readonly isNumber?: boolean;
  /** Its share of the width on paper; the shares of a table add up to 1. */
  readonly share: number;
}

export interface Table {
  readonly caption: string;
  readonly columns: readonly Column[];
  /** By column; the first names the row. */
  readonly rows: readonly (readonly string[])[];
  /** Whether the last row is the sum of the others. */
  readonly hasTotal?: boolean;
}

/** A piece of a report, in words and figures, without a form yet. Nothing is escaped. */
export type Block =
  | { readonly kind: 'text'; readonly text: string; readonly tone?: 'quiet' | 'caution' | undefined }
  | { readonly kind: 'figures'; readonly figures: readonly Figure[] }
  | { readonly kind: 'drawing'; readonly id: string; readonly drawing: Drawing<Style> }
  | ({ readonly kind: 'table' } & Table)
  | { readonly kind: 'steps'; readonly steps: readonly MethodStep[] };

export interface Section {
  /** Stands in addresses within a page. */
  readonly id: string;
  readonly title: string;
  readonly blocks: readonly Block[];
}

/** The report of a region's month in words, as every form of it has them. */
export interface RegionReport {
  readonly title: string;
  readonly region: string;
  /** `March 2026`. */
  readonly month: string;
  readonly company: string;
  /** One line each. */
  readonly facts: readonly string[];
  readonly sections: readonly Section[];
  readonly foot: string;
}

export function text(words: string, tone?: 'quiet' | 'caution'): Block {
  // A percentage is not parted from its sign at the end of a line.
  return { kind: 'text', text: words.replaceAll(' %', '\u00a0%'), tone };
}

export function table(of: Table): Block {
  return { kind: 'table', ...of };
}
