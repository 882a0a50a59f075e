import type { Act } from '../../signIn/can.ts';
import { acknowledge, type Done, dropVisit, returnToService, unacknowledge, unshelve } from './acts.ts';
import type { Target } from './target.ts';

/** Acts that must be told more. */
export type Form = 'visit' | 'shelve' | 'away' | 'at-home' | 'out-of-service';

/** An act as it is offered: it is done at once, or opens a form. */
export interface Choice {
  readonly title: string;
  readonly what: string;
  readonly does: Form | (() => Promise<Done>);
}

/** The acts that make sense for a unit as it stands, for somebody who may do them. */
export function choicesFor(target: Target, may: (act: Act) => boolean): Choice[] {
  return [
    ...(may('desk') ? [visitChoice(target), ...alertChoices(target)] : []),
    ...(may('field') ? [AWAY, AT_HOME] : []),
    ...(may('desk') ? [serviceChoice(target)] : []),
  ];
}

export const FORM_TITLES: Readonly<Record<Form, string>> = {
  visit: 'Plan a visit',
  shelve: 'Shelve',
  away: 'Household away',
  'at-home': 'Household at home',
  'out-of-service': 'Out of service',
};

const AWAY: Choice = {
  title: FORM_TITLES.away,
  what: 'Nobody is there for some days, so no flow is no sign of trouble.',
  does: 'away',
};
const AT_HOME: Choice = {
  title: FORM_TITLES['at-home'],
  what: 'They were there and drew water, so no flow is a sign of trouble.',
  does: 'at-home',
};

function visitChoice({ visit, ...target }: Target): Choice {
  return visit
    ? {
        title: 'Take the visit off',
        what: `${visit.technicianName} does not go there on ${visit.day} after all.`,
        does: () => dropVisit(target, visit),
      }
    : {
        title: FORM_TITLES.visit,
        what: 'A technician goes there on a day of your choice, and gets the brief by mail.',
        does: 'visit',
      };
}

function alertChoices({ alert, ...target }: Target): Choice[] {
  if (!alert) return [];
  const onAlert = { ...target, alert };
  return [
    alert.acknowledged
      ? {
          title: 'Take the acknowledgement back',
          what: 'Nobody sees to it any more.',
          does: () => unacknowledge(onAlert),
        }
      : {
          title: 'Acknowledge',
          what: 'You have seen it and see to it. It stays in the list.',
          does: () => acknowledge(onAlert),
        },
    alert.shelved
      ? {
          title: 'Take off the shelf',
          what: 'It counts again from now on.',
          does: () => unshelve(onAlert),
        }
      : {
          title: 'Shelve until …',
          what: 'Nobody wants to hear of it until a day. It is still watched.',
          does: 'shelve',
        },
  ];
}

function serviceChoice(target: Target): Choice {
  return target.outOfService
    ? {
        title: 'Return to service',
        what: 'It is watched again at once.',
        does: () => returnToService(target),
      }
    : {
        title: FORM_TITLES['out-of-service'],
        what: 'For works, or a house that stands empty: what is open ends, and nothing new is raised.',
        does: 'out-of-service',
      };
}
