import { useNavigate, useSearch } from '@tanstack/react-router';
import { isMonth } from '../../shared/time/month.ts';
import { MEASURES, type MeasureName, type Per } from './measures.ts';

/** What is looked at. It stands in the page's address, so that it can be kept and sent. */
export interface Choice {
  readonly of: MeasureName;
  /** All regions together, if it is left out. */
  readonly region?: string;
  /** `YYYY-MM`; the last that is whole, if it is left out. */
  readonly month?: string;
  readonly per: Per;
  /** Whether it is told of that month or of the last twelve where salt went. */
  readonly over: 'month' | 'year';
}

/** Reads what stands in an address; what is no choice there is left out. */
export function choiceOf({ of, region, month, per, over }: Readonly<Record<string, unknown>>): Choice {
  return {
    of: isMeasure(of) ? of : 'salt',
    ...(typeof region === 'string' && region !== '' && { region }),
    ...(typeof month === 'string' && isMonth(month) && { month }),
    per: per === 'unit-day' ? per : 'all',
    over: over === 'month' ? over : 'year',
  };
}

/** The choice of the address, and what changes it. */
export function useChoice(): [Choice, (change: Readonly<Record<string, string>>) => void] {
  const navigate = useNavigate();
  const search = useSearch({ strict: false });
  const choice = choiceOf(search);
  const change = (changed: Readonly<Record<string, string>>) => {
    const wanted = choiceOf({ ...choice, ...changed });
    void navigate({ to: '/regions', search: { ...wanted }, replace: true, resetScroll: false });
  };
  return [choice, change];
}

function isMeasure(value: unknown): value is MeasureName {
  return typeof value === 'string' && Object.hasOwn(MEASURES, value);
}
