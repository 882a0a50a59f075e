import type { Fact, FlowDay, Presence, Regeneration, ServiceVisit, Settings } from '../../shared/facts.ts';
import type { Unit } from '../../shared/registry.ts';
import { countedMeanwhile, wetDay, zeroDay } from '../demand/absence.ts';
import { shareBefore } from '../demand/dayShare.ts';
import { dayOf, expectedUse, homeUse, observe } from '../demand/household.ts';
import type { MonthAccount } from '../salt/monthAccount.ts';
import { regenerate, setDose } from './bed.ts';
import { bookRegeneration, cycleSoFar, keepLeaked } from './booking.ts';
import { beginDraw, expectedDrawLb, levelSince, saltAdded, setUsualDose, visited } from './brineDraw.ts';
import { endCount, loseSettings, reportSettings } from './controlCount.ts';
import { fillGap } from './fillGap.ts';
import type { FoldRules } from './foldRules.ts';
import { hardnessOfWater } from './hardnessOfWater.ts';
import { observeAll } from './memory/memories.ts';
import { forgetRecent, registerDay } from './registration.ts';
import { copyState, type UnitState } from './state.ts';
import { takeBackAssumed } from './takeBack.ts';
import { enterMonth, takeDay } from './takeDay.ts';
import { nextStretch, noiseLb, readLevel, sensorWorks } from './tankLevel.ts';

/** A meter that registered less than this in a day registered nothing: conversion and rounding, not water. */
const NOTHING_GALLONS = 0.1;
/** More than any house's main carries in a day: what is beyond is a fault of the meter and teaches nothing of its people. */
const MOST_GALLONS = 1e6;

/**
 * Folds one fact into a unit's state. Pure: `state` is left as it was. Facts come in the order of their place in the
 * unit's story (see inOrder in history.ts), each flow day once.
 */
export function advance(unit: Unit, state: UnitState, fact: Fact, rules: FoldRules): UnitState {
  const next = copyState(state);
  fold(unit, next, fact, rules);
  return next;
}

/**
 * As {@link advance}, but writes to the state it is given: for a caller that owns it and folds many facts. Returns the
 * month accounts that the fact closed, those of months without a report among them.
 */
export function fold(unit: Unit, state: UnitState, fact: Fact, rules: FoldRules): MonthAccount[] {
  const closed: MonthAccount[] = [];
  let expectedGallons = 0;
  if (fact.kind === 'flow-day') {
    expectedGallons = homeUse(state.household, dayOf(state.household, fact.date));
    foldFlowDay(unit, state, fact, expectedGallons, closed);
  } else {
    foldLedgers(unit, state, fact, rules, closed);
  }
  observeAll(state.memories, fact, { unit, rules, state, expectedGallons });
  if (fact.kind === 'flow-day') keepLeaked(state, fact);
  return closed;
}

/** What any other fact makes of the ledgers: the bed's, the control's, the tank's and the month's. */
function foldLedgers(
  unit: Unit,
  state: UnitState,
  fact: Exclude<Fact, FlowDay>,
  rules: FoldRules,
  closed: MonthAccount[],
) {
  switch (fact.kind) {
    case 'regeneration':
      return foldRegeneration(unit, state, fact, rules, closed);
    case 'salt-level':
      return foldLevel(state, fact.lb, rules);
    case 'settings':
      return foldSettings(state, fact);
    case 'service-visit':
      return foldVisit(unit, state, fact, rules, closed);
    case 'away':
    case 'at-home':
      return foldPresence(state, fact);
    case 'power':
      // A control that lost its settings is at its maker's; until it reports them the record is all there is.
      return fact.settingsKept ? undefined : loseSettings(state.count);
    case 'question':
      // That it is not sure is an answer that says nothing.
      state.askedAt = fact.step === 'asked' ? fact.time : null;
      return;
    case 'alert-act':
      return;
  }
}

/** @param expectedGallons what was expected of the day with the household at home */
function foldFlowDay(
  unit: Unit,
  state: UnitState,
  day: FlowDay,
  expectedGallons: number,
  closed: MonthAccount[],
) {
  fillGap(unit, state, day.date, closed);
  enterMonth(unit, state, day.date, closed);
  takeDay(unit, state, day.date, day.gallons, false);
  state.household = observe(state.household, day.date, Math.min(day.gallons, MOST_GALLONS));
  if (day.gallons < NOTHING_GALLONS) {
    zeroDay(state.absence, day.date, day.registerGallons);
  } else {
    if (state.absence.run) forgetRecent(state.registration);
    const isTrickle = state.household.away === 1;
    const wet = { isTrickle, registerGallons: day.registerGallons };
    wetDay(state.absence, wet, isStallEnded(unit, state) ? 0 : 1);
    registerDay(state.registration, day, expectedGallons);
  }
  state.lastReported = day.date;
}

/**
 * A run of zero days that a household was there in, or a visit fell into that did not find all well, was a stalled meter
 * and no absence.
 */
function isStallEnded(unit: Unit, state: UnitState): boolean {
  const { run } = state.absence;
  if (!run) return false;
  const { atHome, lastVisit, memories } = state;
  const wasThere = atHome !== null && atHome.to >= run.from && atHome.from <= run.to;
  const isVisited = lastVisit !== null && lastVisit >= unit.zone.startOf(run.from);
  return wasThere || (isVisited && !memories.visits.nothing);
}

function foldRegeneration(
  unit: Unit,
  state: UnitState,
  regeneration: Regeneration,
  rules: FoldRules,
  closed: MonthAccount[],
) {
  const { bed, count, draw, tank } = state;
  const date = unit.zone.dateAt(regeneration.time);
  const hour = unit.zone.hourAt(regeneration.time);
  fillGap(unit, state, date, closed);
  enterMonth(unit, state, date, closed);

  const earlier = shareBefore(hour);
  const soFar = Math.max(0, earlier - (1 - bed.shareToCome)) * expectedUse(state.household, date);
  const metered = regeneration.trigger === 'metered' || regeneration.trigger === 'unknown';
  const countedGallons = regeneration.gallonsSince ?? count.gallons + soFar;
  if (!count.isAssumed && count.imputedGallons === 0) {
    // The ledger may be off by the day on which the cycle began.
    countedMeanwhile(state.absence, Math.max(0, countedGallons - count.gallons - state.household.level));
  }
  if (metered) {
    const sinceGallons = count.gallons + soFar;
    takeBackAssumed(unit, state, { saysGallons: regeneration.gallonsSince, sinceGallons });
  }
  const cycle = cycleSoFar(unit, state, regeneration, soFar);
  endCount(count, { metered, hour, countedGallons, alternating: unit.alternating });
  regenerate(bed, expectedDrawLb(draw, bed.saltDoseLb), earlier);

  if (regeneration.saltBeforeLb !== undefined) foldLevel(state, regeneration.saltBeforeLb, rules);
  beginDraw(
    draw,
    {
      brineGallons: regeneration.brineGallons,
      levelBefore: nextStretch(tank),
      sensorWorks: sensorWorks(tank),
    },
    rules.draw,
  );
  if (regeneration.saltAfterLb !== undefined) foldLevel(state, regeneration.saltAfterLb, rules);

  bookRegeneration(unit, state, regeneration, cycle);
  state.lastRegeneration = regeneration.time;
  state.regeneratedOn = date;
}

function foldLevel(state: UnitState, lb: number, rules: FoldRules) {
  if (readLevel(state.tank, lb)) saltAdded(state.draw, rules.draw);
  levelSince(state.draw, state.tank.since, {
    noiseLb: noiseLb(state.tank),
    sensorWorks: sensorWorks(state.tank),
  });
}

function foldSettings(state: UnitState, settings: Settings) {
  const { hardnessGpg, capacityGrains, regenerationHour, saltDoseLb, mode } = settings;
  const now = state.programmed;
  const changed =
    hardnessGpg !== now.hardnessGpg ||
    capacityGrains !== now.capacityGrains ||
    regenerationHour !== now.regenerationHour;
  state.programmed = { hardnessGpg, capacityGrains, regenerationHour };
  reportSettings(state.count, changed);
  if (mode !== undefined) state.inService = mode === 'service';
  if (saltDoseLb !== undefined && saltDoseLb > 0 && saltDoseLb !== state.bed.saltDoseLb) {
    setDose(state.bed, saltDoseLb);
    setUsualDose(state.draw, saltDoseLb);
  }
}

function foldVisit(
  unit: Unit,
  state: UnitState,
  visit: ServiceVisit,
  rules: FoldRules,
  closed: MonthAccount[],
) {
  if (isDelivery(visit)) {
    const date = unit.zone.dateAt(visit.time);
    fillGap(unit, state, date, closed);
    enterMonth(unit, state, date, closed);
    state.month.deliveredSaltLb += visit.saltAddedLb;
  }
  state.lastVisit = visit.time;
  visited(state.draw, rules.draw);
  if (isDelivery(visit)) {
    saltAdded(state.draw, rules.draw);
    state.tank.since = null;
  }
  if (visit.rawHardnessGpg !== undefined && visit.rawHardnessGpg > 0) {
    state.rawHardnessGpg = visit.rawHardnessGpg;
    state.compensatedHardnessGpg = hardnessOfWater(visit.rawHardnessGpg, unit.ironMgPerL, rules);
  }
}

/** Whether a visit brought salt. */
export function isDelivery<Visit extends ServiceVisit>(
  visit: Visit,
): visit is Visit & { saltAddedLb: number } {
  return visit.saltAddedLb !== undefined && visit.saltAddedLb > 0;
}

function foldPresence(state: UnitState, presence: Presence) {
  const { kind, from, to } = presence;
  state.askedAt = null;
  const before = kind === 'away' ? state.atHome : state.away;
  // Of two words on the same days the later one stands.
  const isTakenBack = before !== null && before.from <= to && from <= before.to;
  if (kind === 'away') {
    state.away = { from, to };
    if (isTakenBack) state.atHome = null;
  } else {
    state.atHome = { from, to };
    if (isTakenBack) state.away = null;
  }
}
