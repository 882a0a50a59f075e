import type { Forecast } from '../../shared/forecasts.ts';
import type { AsciiBytes } from './asciiBytes.ts';

/** More than a line ever takes: its members, an id of 64 characters, six dates and seven numbers. */
const MOST_CHARACTERS = 1024;
/** Parts of a gallon, and of a probability. */
const HUNDREDTHS = 100;
const TEN_THOUSANDTHS = 10_000;

/**
 * Writes a line of forecasts.ndjson: volumes to a hundredth of a gallon, the probability to four decimals. The same
 * bytes as JSON.stringify makes: ids and dates have no character that it would escape.
 */
export function writeForecast(out: AsciiBytes, forecast: Forecast): void {
  const { nextDayUse } = forecast;
  out.reserve(MOST_CHARACTERS);
  out.text('{"unitId":"');
  out.text(forecast.unitId);
  out.text('","asOf":"');
  out.text(forecast.asOf);
  out.text('","nextDayUse":{"p10":');
  out.number(nextDayUse.p10, HUNDREDTHS);
  out.text(',"p50":');
  out.number(nextDayUse.p50, HUNDREDTHS);
  out.text(',"p90":');
  out.number(nextDayUse.p90, HUNDREDTHS);
  out.text(',"mean":');
  out.number(nextDayUse.mean, HUNDREDTHS);
  out.text('},"remaining":');
  out.number(forecast.remaining, HUNDREDTHS);
  out.text(',"reserve":');
  out.number(forecast.reserve, HUNDREDTHS);
  out.text(',"nextRegeneration":');
  writeDates(out, forecast.nextRegeneration);
  out.text(',"exhaustion":');
  writeDates(out, forecast.exhaustion);
  out.text(',"overrunProbability":');
  out.number(forecast.overrunProbability, TEN_THOUSANDTHS);
  out.text('}\n');
}

function writeDates(out: AsciiBytes, { p10, p50, p90 }: Forecast['exhaustion']): void {
  out.text('{"p10":');
  writeDate(out, p10);
  out.text(',"p50":');
  writeDate(out, p50);
  out.text(',"p90":');
  writeDate(out, p90);
  out.text('}');
}

function writeDate(out: AsciiBytes, date: string | null): void {
  if (date === null) {
    out.text('null');
    return;
  }
  out.text('"');
  out.text(date);
  out.text('"');
}
