import type { Fact } from '../../shared/facts.ts';
import type { Column } from '../table/column.ts';
import type { FactRow } from './factRow.ts';

type Kind = Fact['kind'];
type FactOf<K extends Kind> = Extract<Fact, { kind: K }>;

/** The columns that facts of one kind have, in the trade's units: null in the rows of others. */
export const KIND_COLUMNS = {
  'flow-day': columns('flow-day', {
    volume_gal: ['double', 'treated water of the day, US gallons', (day) => day.gallons],
    peak_flow_gpm: ['double', 'highest flow, US gallons a minute', (day) => day.peakGpm],
    flow_hours: ['integer', 'hours of the day with any flow', (day) => day.flowHours],
    longest_flow_minutes: ['double', 'longest unbroken flow, minutes', (day) => day.longestFlowMinutes],
    register_gal: ['double', 'the meter’s running total, US gallons', (day) => day.registerGallons],
  }),
  regeneration: columns('regeneration', {
    triggered_by: ['text', 'metered, manual, override or unknown', (each) => each.trigger],
    duration_minutes: ['double', 'how long it took, minutes', (each) => each.durationMinutes],
    salt_before_lb: ['double', 'salt in the tank before it, lb', (each) => each.saltBeforeLb],
    salt_after_lb: ['double', 'salt in the tank after it, lb', (each) => each.saltAfterLb],
    brine_drawn_gal: ['double', 'brine drawn to the bed, US gallons', (each) => each.brineGallons],
    water_gal: ['double', 'water that it used, US gallons', (each) => each.waterGallons],
    volume_since_gal: [
      'double',
      'the control’s own count of treated water since the one before, US gallons',
      (each) => each.gallonsSince,
    ],
  }),
  settings: columns('settings', {
    hardness_gpg: ['double', 'compensated hardness set, grains per US gallon', (each) => each.hardnessGpg],
    capacity_grains: ['double', 'capacity set, grains', (each) => each.capacityGrains],
    regeneration_hour: [
      'integer',
      'hour set, 0 to 23 of the control’s clock',
      (each) => each.regenerationHour,
    ],
    clock_minutes: [
      'integer',
      'what the control’s clock showed, minutes after midnight',
      (each) => each.clockMinutes,
    ],
    salt_dose_lb: ['double', 'salt a regeneration, lb', (each) => each.saltDoseLb],
    mode: ['text', 'service or setup', (each) => each.mode],
  }),
  'salt-level': columns('salt-level', { salt_lb: ['double', 'salt in the tank, lb', ({ lb }) => lb] }),
  power: columns('power', {
    lost_at: ['timestamp', 'when the power failed, UTC', (each) => each.lostAt],
    restored_at: ['timestamp', 'when it came back, UTC', (each) => each.restoredAt],
    settings_kept: ['boolean', 'whether the control kept its settings', (each) => each.settingsKept],
  }),
  'service-visit': columns('service-visit', {
    technician: ['text', 'id of the technician', (each) => each.technician],
    findings: ['text', 'what was found; several are parted by "; "', ({ findings }) => findings.join('; ')],
    work: ['text', 'what was done; several are parted by "; "', ({ work }) => work.join('; ')],
    parts: ['text', 'parts that were used; several are parted by "; "', ({ parts }) => parts?.join('; ')],
    salt_added_lb: ['double', 'salt put in, lb', (each) => each.saltAddedLb],
    raw_hardness_gpg: ['double', 'of the raw water, grains per US gallon', (each) => each.rawHardnessGpg],
    cold_hardness_gpg: ['double', 'at the cold tap, grains per US gallon', (each) => each.coldHardnessGpg],
    hot_hardness_gpg: ['double', 'at the hot tap, grains per US gallon', (each) => each.hotHardnessGpg],
    notes: ['text', 'what the technician noted', (each) => each.notes],
  }).map((column) => (column.type === 'text' ? { ...column, long: true as const } : column)),
  presence: [
    {
      ...{ name: 'from_date', type: 'date', about: 'first day away or at home' },
      of: ({ fact }) => (fact.kind === 'away' || fact.kind === 'at-home' ? fact.from : null),
    },
    {
      ...{ name: 'to_date', type: 'date', about: 'last day away or at home' },
      of: ({ fact }) => (fact.kind === 'away' || fact.kind === 'at-home' ? fact.to : null),
    },
  ],
  'alert-act': columns('alert-act', {
    act: ['text', 'what somebody did about an alert or a unit', (each) => each.act],
    acted_by: ['text', 'who did it', (each) => each.by],
    alert_id: ['text', 'the alert', (each) => each.alertId],
    act_until: ['timestamp', 'until when it is to hold, UTC', (each) => each.until],
  }),
  question: columns('question', { step: ['text', 'asked or not-sure', (each) => each.step] }),
} as const satisfies Partial<Record<Kind | 'presence', readonly Column<FactRow>[]>>;

function columns<K extends Kind>(
  kind: K,
  of: Readonly<
    Record<
      string,
      readonly [
        Column<FactRow>['type'],
        string,
        (fact: FactOf<K>) => string | number | boolean | null | undefined,
      ]
    >
  >,
): Column<FactRow>[] {
  return Object.entries(of).map(([name, [type, about, value]]) => ({
    ...{ name, type, about },
    of: ({ kind: own, fact }) => (own === kind && isOf(fact, kind) ? value(fact) : null),
  }));
}

function isOf<K extends Kind>(fact: Fact, kind: K): fact is FactOf<K> {
  return fact.kind === kind;
}
