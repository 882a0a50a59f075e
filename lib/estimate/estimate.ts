/** An estimate, and between which bounds it lies with 80 %. */
export interface Estimate {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}
