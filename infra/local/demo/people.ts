import type { Person } from '../../../lib/store/person.ts';

/** Who works for the demonstration's company: all invented. */
export const DEMO_PEOPLE: readonly Person[] = [
  { personId: 'desk-1', mail: 'dana@larkwater.example', name: 'Dana Reyes', role: 'dispatcher', units: 'us' },
  {
    personId: 'tech-4',
    mail: 'tomas@larkwater.example',
    name: 'Tomas Lindqvist',
    role: 'technician',
    units: 'us',
  },
  {
    personId: 'tech-7',
    mail: 'mei@larkwater.example',
    name: 'Mei Castellano',
    role: 'technician',
    units: 'us',
  },
  { personId: 'books-1', mail: 'aiko@larkwater.example', name: 'Aiko Brandt', role: 'analyst', units: 'us' },
  { personId: 'owner-1', mail: 'olu@larkwater.example', name: 'Olu Fairweather', role: 'owner', units: 'us' },
];
