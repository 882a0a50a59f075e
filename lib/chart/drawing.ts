/** What is drawn; each style stands for something, and each form of a picture draws it in its own way. */
export type Mark<Style extends string> =
  | { kind: 'rect'; style: Style; x: number; y: number; width: number; height: number }
  | { kind: 'path'; style: Style; points: readonly (readonly [x: number, y: number])[] }
  /** A triangle that points up, its tip here: full, or an outline. */
  | { kind: 'triangle'; style: Style; x: number; y: number }
  | { kind: 'text'; x: number; y: number; text: string; anchor: 'start' | 'middle' | 'end'; bold: boolean };

/** A picture without a form yet: y runs down, sizes are in units of the picture. */
export interface Drawing<Style extends string> {
  readonly width: number;
  readonly height: number;
  readonly title: string;
  readonly description: string;
  readonly marks: readonly Mark<Style>[];
}
