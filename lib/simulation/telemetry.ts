import type { EventData, EventType } from '../../shared/events.ts';
import type { Instant } from '../../shared/time/instant.ts';
import { formatLocalDate, type LocalDate } from '../../shared/time/localDate.ts';
import type { Chance } from './chance.ts';
import type { Condition } from './condition.ts';
import { winterOffset } from './localTime.ts';
import { flowOfDay, withLeak } from './meter.ts';
import type { UnitProfile } from './profile.ts';
import type { TrueRegeneration } from './softener.ts';
import { eventOf, programmedOf, type Quantities, quantitiesOf, type Sent } from './wire.ts';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const TECHNICIANS = ['tech-ana', 'tech-bo', 'tech-cleo'] as const;

/** What does not come from the unit. */
const BY_PEOPLE: ReadonlySet<string> = new Set([
  'brinebell.service-visit.v1',
  'brinebell.away.v1',
  'brinebell.at-home.v1',
]);

/** The way of what a unit sends to the service. */
interface Way {
  /** Whether what it sends now ever arrives. */
  readonly isOpen: () => boolean;
  /** When that arrives which would have arrived at an instant. */
  readonly arrival: (recorded: Instant) => Instant;
}

/** What one unit's household, technician and electronics send of what truly happens. */
export class Telemetry {
  readonly #profile: UnitProfile;
  readonly #chance: Chance;
  readonly #write: Quantities;
  #sent: Sent[] = [];
  #count = 0;
  #registerGallons: number;
  /** Whether the level sensor repeats its last reading; and that, lb. */
  sticks = false;
  #lastReadingLb: number | undefined;
  readonly #way: Way;

  constructor(profile: UnitProfile, chance: Chance, way: Way) {
    this.#profile = profile;
    this.#way = way;
    this.#chance = chance;
    this.#write = quantitiesOf(profile);
    this.#registerGallons = chance.uniform(0, 200_000);
  }

  /** Hands over the events since the last time. */
  take(): Sent[] {
    const sent = this.#sent;
    this.#sent = [];
    return sent;
  }

  /**
   * @param counted what the meter counted of the day, and of that what a fixture let run that never shuts
   * @param leak for how many hours of the day, 24 for all of it, that fixture ran, and how fast by the meter
   */
  flowDay(
    date: LocalDate,
    counted: { gallons: number; leakGallons: number },
    registered: number,
    {
      reported,
      leak,
      longDrawMinutes,
    }: {
      reported: boolean;
      leak: { hours: number; gpm: number };
      longDrawMinutes: number;
    },
  ): void {
    const { senses, peakGpm, reportsRegister, zone } = this.#profile;
    this.#registerGallons += counted.gallons;
    const householdGallons = counted.gallons - counted.leakGallons;
    const drawn = flowOfDay(householdGallons, registered, peakGpm, this.#chance);
    const longest = householdGallons > 0 ? longDrawMinutes : 0;
    const household = { ...drawn, longestFlowMinutes: Math.max(drawn.longestFlowMinutes, longest) };
    const hours = (zone.startOf(date + 1) - zone.startOf(date)) / HOUR;
    const flow = leak.hours > 0 && leak.gpm > 0 ? withLeak(household, leak, hours) : household;
    if (!reported) return;
    this.#send('brinebell.flow-day.v1', zone.startOf(date + 1), {
      date: formatLocalDate(date),
      volume: this.#write.volume(counted.gallons),
      ...(senses.includes('peak-flow') && {
        peakFlow: this.#write.flow(flow.peakGpm),
        flowHours: flow.flowHours,
        longestFlowMinutes: flow.longestFlowMinutes,
      }),
      ...(reportsRegister && { register: this.#write.volume(this.#registerGallons) }),
    });
  }

  /** @param slowness how many times as long as usual it takes */
  regeneration(
    time: Instant,
    trigger: EventData<'brinebell.regeneration.v1'>['trigger'],
    truth: TrueRegeneration,
    slowness: number,
  ): void {
    const { senses, regenerationMinutes, resinCubicFeet, brineNoise, reportsVolumeSince } = this.#profile;
    const chance = this.#chance;
    const durationMinutes = Math.round(slowness * chance.normal(regenerationMinutes, 1.5));
    const noisy = (gallons: number, share: number) => gallons * Math.max(0, chance.normal(1, share));
    // Air and a dripping seat: a draw of nothing still reads something.
    const brine = truth.brineGallons > 0 ? noisy(truth.brineGallons, brineNoise) : chance.uniform(0, 0.06);
    const data: EventData<'brinebell.regeneration.v1'> = {
      trigger,
      durationMinutes,
      ...(senses.includes('salt-level') && {
        saltBefore: this.#reading(truth.saltBeforeLb),
        saltAfter: this.#reading(truth.saltBeforeLb - truth.saltLb),
      }),
      ...(senses.includes('brine-draw') && { brineDrawn: this.#write.volume(brine) }),
      // About 80 gal/ft3: AWWA/ASCE, Water Treatment Plant Design, ch. 12, p. 12.46.
      water: this.#write.volume(noisy(80 * resinCubicFeet, 0.05)),
      ...(reportsVolumeSince && { volumeSince: this.#write.volume(truth.countedGallons) }),
    };
    this.#send('brinebell.regeneration.v1', time, data, durationMinutes * MINUTE);
  }

  settings(time: Instant, { programmed, mode, clockAheadHours }: Condition): void {
    const { zone, followsSummerTime, saltDoseLb, reportsSettings } = this.#profile;
    if (!reportsSettings) return;
    const offset = followsSummerTime ? zone.offsetAt(time) : winterOffset(zone, zone.dateAt(time));
    this.#send('brinebell.settings.v1', time, {
      ...programmedOf(this.#write, programmed),
      regenerationHour: programmed.regenerationHour,
      clock: new Date(time + offset + clockAheadHours * HOUR).toISOString().slice(11, 16),
      saltDose: this.#write.mass(saltDoseLb),
      mode,
    });
  }

  saltLevel(time: Instant, lb: number): void {
    if (!this.#profile.senses.includes('salt-level')) return;
    this.#send('brinebell.salt-level.v1', time, { mass: this.#reading(lb) });
  }

  visit(time: Instant, what: { findings: string[]; work: string[]; saltAddedLb: number }): void {
    const { hardnessGpg } = this.#profile;
    this.#send('brinebell.service-visit.v1', time, {
      technician: this.#chance.pick(TECHNICIANS),
      findings: what.findings,
      work: what.work,
      ...(what.saltAddedLb > 0 && { saltAdded: this.#write.mass(what.saltAddedLb) }),
      rawHardness: this.#write.hardness(hardnessGpg * this.#chance.uniform(0.97, 1.03)),
    });
  }

  /** The household's word on a span of dates, both included. */
  presence(time: Instant, who: 'away' | 'at-home', from: LocalDate, to: LocalDate): void {
    this.#send(`brinebell.${who}.v1`, time, { from: formatLocalDate(from), to: formatLocalDate(to) });
  }

  power(lostAt: Instant, minutes: number, settingsKept = true): void {
    const restoredAt = lostAt + minutes * MINUTE;
    this.#send('brinebell.power.v1', restoredAt, {
      lostAt: new Date(lostAt).toISOString(),
      restoredAt: new Date(restoredAt).toISOString(),
      settingsKept,
    });
  }

  #reading(lb: number) {
    const fresh = Math.round(this.#chance.normal(lb, this.#profile.levelNoiseLb));
    this.#lastReadingLb = this.sticks ? (this.#lastReadingLb ?? fresh) : fresh;
    return this.#write.mass(this.#lastReadingLb);
  }

  #send<Type extends EventType>(type: Type, time: Instant, data: EventData<Type>, after = 0): void {
    const isByPeople = BY_PEOPLE.has(type);
    if (!isByPeople && !this.#way.isOpen()) return;
    this.#count += 1;
    // A few seconds to a few minutes on the way.
    const delay = Math.round(this.#chance.gamma(150, 0.9)) * 1000;
    const sent = Math.round(time + after) + delay;
    const when = { time, recorded: isByPeople ? sent : this.#way.arrival(sent) };
    this.#sent.push(eventOf(this.#profile, `e${this.#count}`, type, when, data));
  }
}
