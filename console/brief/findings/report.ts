import {
  CAO_GRAMS_PER_MOL,
  KG_PER_LB,
  MG_PER_L_CACO3_PER_MMOL_PER_L,
  MG_PER_L_PER_GPG,
} from '../../../shared/units.ts';
import type { paths } from '../../api/generated/api.d.ts';
import type { Draft, HardnessUnit } from './draft.ts';

/** What `POST /v1/units/{unitId}/visits/record` takes. */
export type Report =
  paths['/v1/units/{unitId}/visits/record']['post']['requestBody']['content']['application/json'];

/** mg/L as calcium carbonate in one German degree: 10 mg/L of calcium oxide. 17.848. */
const MG_PER_L_PER_DH = (10 * MG_PER_L_CACO3_PER_MMOL_PER_L) / CAO_GRAMS_PER_MOL;

/** More is a slip of the finger: no well that is softened is so hard, and a tank holds no more. Common practice, no source. */
const MOST_GPG = 150;
const MOST_SALT_LB = 500;

interface Around {
  readonly technician: string;
  /** RFC 3339. */
  readonly time: string;
  readonly visitId: string | undefined;
}

/** A draft as the report of a visit; what was left empty is left out. */
export function reportOf(draft: Draft, { technician, time, visitId }: Around): Report {
  const { notes, hardnessUnit } = draft;
  const parts = [...draft.parts, ...linesOf(draft.otherParts)];
  const salt = numberOf(draft.saltAdded);
  const hardness = (typed: string) => {
    const value = numberOf(typed);
    return value === undefined ? undefined : inWire(value, hardnessUnit);
  };
  const raw = hardness(draft.rawHardness);
  const cold = hardness(draft.coldHardness);
  const hot = hardness(draft.hotHardness);
  return {
    technician,
    time,
    findings: [...draft.findings, ...linesOf(draft.otherFindings)],
    work: linesOf(draft.work),
    ...(parts.length > 0 && { parts }),
    ...(salt !== undefined && {
      saltAdded: { value: salt, unit: draft.saltUnit === 'lb' ? '[lb_av]' : 'kg' },
    }),
    ...(raw && { rawHardness: raw }),
    ...(cold && { coldHardness: cold }),
    ...(hot && { hotHardness: hot }),
    ...(notes.trim() && { notes: notes.trim() }),
    ...(visitId !== undefined && { visitId }),
  };
}

/** What is not right about a draft, in words; undefined if it may be sent. */
export function faultOf(draft: Draft): string | undefined {
  const { findings, otherFindings, work } = draft;
  if (findings.length === 0 && !otherFindings.trim() && !work.trim()) {
    return 'Say what you found, or that you found nothing, or what you did.';
  }
  const hardest = Math.max(
    ...[draft.rawHardness, draft.coldHardness, draft.hotHardness].map((typed) =>
      gpgOf(typed, draft.hardnessUnit),
    ),
  );
  if (hardest > MOST_GPG)
    return `No tap has ${Math.round(hardest)} gpg: check the hardness, and what it is counted in.`;
  const saltLb = (numberOf(draft.saltAdded) ?? 0) / (draft.saltUnit === 'lb' ? 1 : KG_PER_LB);
  if (saltLb > MOST_SALT_LB) return `Nobody brings ${Math.round(saltLb)} lb of salt: check how much it was.`;
  return undefined;
}

function gpgOf(typed: string, unit: HardnessUnit): number {
  const value = numberOf(typed) ?? 0;
  if (unit === 'gpg') return value;
  return (unit === '°dH' ? value * MG_PER_L_PER_DH : value) / MG_PER_L_PER_GPG;
}

function inWire(value: number, unit: HardnessUnit): { value: number; unit: '[gr]/[gal_us]' | 'mg/L' } {
  if (unit === 'gpg') return { value, unit: '[gr]/[gal_us]' };
  return { value: unit === '°dH' ? value * MG_PER_L_PER_DH : value, unit: 'mg/L' };
}

function numberOf(typed: string): number | undefined {
  // Where people write 12,5 their keyboards have no point.
  const value = Number(typed.trim().replace(',', '.'));
  return typed.trim() === '' || !Number.isFinite(value) ? undefined : value;
}

function linesOf(text: string): string[] {
  return text
    .split('\n')
    .map((line) => line.trim())
    .filter(Boolean);
}
