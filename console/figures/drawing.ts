import type { PlotOptions } from '@observablehq/plot';
import type { Likings } from '../show/Likings.tsx';

/** What a figure is drawn into. */
export interface Frame {
  /** Pixels. */
  readonly width: number;
  /** A phone: less beside the figure, fewer ticks. */
  readonly isNarrow: boolean;
  readonly likings: Likings;
}

/** Makes what Plot draws; it is called again whenever the frame or what is shown changes. */
export type Draw = (frame: Frame) => PlotOptions;

/** What is read at one place of the horizontal axis. */
export interface Reading {
  /** The place, in the axis's own numbers. */
  readonly at: number;
  readonly words: string;
}

/** The same as a figure, in words and numbers. */
export interface FigureTable {
  readonly columns: readonly string[];
  readonly rows: readonly (readonly string[])[];
}
