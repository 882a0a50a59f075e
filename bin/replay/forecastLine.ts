import type { Forecast } from '../../shared/forecasts.ts';
import { type AsciiBytes, Piece } from './asciiBytes.ts';

/** More than a line ever takes: its members, an id of 64 characters, six dates and seven numbers. */
const MOST_CHARACTERS = 1024;
/** Parts of a gallon, and of a probability. */
const HUNDREDTHS = 100;
const TEN_THOUSANDTHS = 10_000;

// What stands between the values.
const UNIT = new Piece('{"unitId":"');
const AS_OF = new Piece('","asOf":"');
const NEXT_DAY = new Piece('","nextDayUse":{"p10":');
const P50 = new Piece(',"p50":');
const P90 = new Piece(',"p90":');
const MEAN = new Piece(',"mean":');
const REMAINING = new Piece('},"remaining":');
const RESERVE = new Piece(',"reserve":');
const REGENERATION = new Piece(',"nextRegeneration":{"p10":');
const EXHAUSTION = new Piece('},"exhaustion":{"p10":');
const OVERRUN = new Piece('},"overrunProbability":');
const END = new Piece('}\n');
const QUOTE = new Piece('"');
const NULL = new Piece('null');

/**
 * Writes a line of forecasts.ndjson: volumes to a hundredth of a gallon, the probability to four decimals. The same
 * bytes as JSON.stringify makes: ids and dates have no character that it would escape.
 */
export function writeForecast(out: AsciiBytes, forecast: Forecast): void {
  const { nextDayUse } = forecast;
  out.reserve(MOST_CHARACTERS);
  out.piece(UNIT);
  out.text(forecast.unitId);
  out.piece(AS_OF);
  out.text(forecast.asOf);
  out.piece(NEXT_DAY);
  out.number(nextDayUse.p10, HUNDREDTHS);
  out.piece(P50);
  out.number(nextDayUse.p50, HUNDREDTHS);
  out.piece(P90);
  out.number(nextDayUse.p90, HUNDREDTHS);
  out.piece(MEAN);
  out.number(nextDayUse.mean, HUNDREDTHS);
  out.piece(REMAINING);
  out.number(forecast.remaining, HUNDREDTHS);
  out.piece(RESERVE);
  out.number(forecast.reserve, HUNDREDTHS);
  out.piece(REGENERATION);
  writeDates(out, forecast.nextRegeneration);
  out.piece(EXHAUSTION);
  writeDates(out, forecast.exhaustion);
  out.piece(OVERRUN);
  out.number(forecast.overrunProbability, TEN_THOUSANDTHS);
  out.piece(END);
}

function writeDates(out: AsciiBytes, dates: Forecast['exhaustion']): void {
  writeDate(out, dates.p10);
  out.piece(P50);
  writeDate(out, dates.p50);
  out.piece(P90);
  writeDate(out, dates.p90);
}

function writeDate(out: AsciiBytes, date: string | null): void {
  if (date === null) {
    out.piece(NULL);
    return;
  }
  out.piece(QUOTE);
  out.text(date);
  out.piece(QUOTE);
}
