import { expect, it } from 'vitest';
import { HoltWinters } from '../../../bench/families/holtWinters.ts';

/** Forecasts one step ahead, each made before its value was taken in, and the mean of their squared errors. */
function led(model: HoltWinters, values: readonly number[], period: number) {
  const errors = values.map((value, index) => {
    const error = value - model.expected(index % period);
    model.observe(index % period, value);
    return error;
  });
  const ahead = (steps: number) => model.expected((values.length + steps - 1) % period, steps);
  const squares = errors.reduce((sum, error) => sum + error * error, 0);
  return { squares, ahead };
}

it('smooths the worked example of single smoothing, NIST/SEMATECH e-Handbook 6.4.3.1 and 2', () => {
  const [first = 0, ...rest] = [71, 70, 69, 68, 64, 65, 72, 78, 75, 75, 75, 70];
  const model = new HoltWinters({ level: 0.1, trend: 0, season: 0 }, { level: first, trend: 0, season: [1] });
  const { squares, ahead } = led(model, rest, 1);
  // The handbook prints 19.0 and 71.50; the further decimals are the same recursion worked out outside of this code.
  expect(squares / 11).toBeCloseTo(18.9835, 4);
  expect(ahead(1)).toBeCloseTo(71.4988, 4);
});

it('smooths the worked example of double smoothing, NIST/SEMATECH e-Handbook 6.4.3.3 and 4', () => {
  const [first = 0, ...rest] = [6.4, 5.6, 7.8, 8.8, 11.0, 11.6, 16.7, 15.3, 21.6, 22.4];
  const model = new HoltWinters(
    { level: 0.3623, trend: 1, season: 0 },
    { level: first, trend: 0.8, season: [1] },
  );
  const { squares, ahead } = led(model, rest, 1);
  expect(squares / 9).toBeCloseTo(3.6743, 3);
  // As the handbook prints them.
  for (const [index, value] of [25.77, 28.73, 31.69, 34.64, 37.6].entries())
    expect(ahead(index + 1)).toBeCloseTo(value, 1);
});

it('smooths oil production, Hyndman & Athanasopoulos, Forecasting: principles and practice, 1st edition 7.1', () => {
  const [first = 0, ...rest] = [
    446.6565229, 454.4733065, 455.662974, 423.6322388, 456.2713279, 440.5880501, 425.3325201, 485.1494479,
    506.0481621, 526.7919833, 514.268889, 494.2110193,
  ];
  for (const [gain, next] of [
    [0.2, 484.802468],
    [0.6, 501.837461],
  ] as const) {
    const start = { level: first, trend: 0, season: [1] };
    const model = new HoltWinters({ level: gain, trend: 0, season: 0 }, start);
    expect(led(model, rest, 1).ahead(1)).toBeCloseTo(next, 5);
  }
});

it('smooths tourist nights by season with fixed parameters, on the data of the same book, 7.5', () => {
  const nights = [
    41.727458, 24.04185, 32.328103, 37.328708, 46.213153, 29.346326, 36.48291, 42.977719, 48.901525,
    31.180221, 37.717881, 40.420211, 51.206863, 31.887228, 40.978263, 43.772491, 55.558567, 33.850915,
    42.076383, 45.642292, 59.76678, 35.191877, 44.319737, 47.913736,
  ];
  const level = 33.85652975;
  const season = nights.slice(0, 4).map((value) => value / level);
  const model = new HoltWinters(
    { level: 0.5, trend: 0.1, season: 0.3 },
    { level, trend: 1.2246243125, season },
  );
  const { squares, ahead } = led(model, nights, 4);
  // Worked out outside of this code in two forms that agree; the book prints fitted parameters only.
  expect(squares).toBeCloseTo(102.828163, 4);
  for (const [index, value] of [61.409296, 36.669397, 45.989119, 50.592311].entries())
    expect(ahead(index + 1)).toBeCloseTo(value, 5);
});
