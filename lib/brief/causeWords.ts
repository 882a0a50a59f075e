import type { AlertCause } from '../../shared/alerts.ts';

/** What each cause says is wrong. */
export const CAUSE_WORDS: Readonly<Record<AlertCause, string>> = {
  'meter-stalled': 'The meter has stalled',
  'meter-obstructed': 'The meter counts too little: fouled or worn',
  'meter-fault': 'The meter is at fault',
  'tank-empty': 'The brine tank is empty',
  'salt-bridged': 'A salt bridge',
  'brine-not-drawn': 'Brine is not drawn: injector, brine line or drain',
  'no-salt-draw': 'The last regeneration drew no salt',
  'regeneration-missed': 'A regeneration was missed',
  'capacity-setting': 'The capacity does not fit the salt dose',
  'reserve-short': 'The reserve was too small for the day',
  'not-in-service': 'Bypassed, unplugged or in set-up mode',
  'drive-failed': 'The drive has failed: motor, gears or position switch',
  repeated: 'Something starts regenerations again',
  manual: 'Somebody starts regenerations by hand',
  'capacity-too-high': 'The capacity is set too high',
  'capacity-too-low': 'The capacity is set too low',
  'hardness-too-low': 'The hardness is set too low',
  'hardness-too-high': 'The hardness is set too high',
  'out-of-range': 'A setting cannot be right',
  'twelve-hours': 'The clock has morning and evening swapped',
  drift: 'The clock has drifted',
  leak: 'A leak, or a fixture that runs on',
};
