/** A page of the console, and somebody who may see it. */
export interface PageToSee {
  readonly name: string;
  readonly path: string;
  readonly by: string;
}

export const DANA = 'Dana Reyes';
export const TOMAS = 'Tomas Lindqvist';
export const AIKO = 'Aiko Brandt';
export const OLU = 'Olu Fairweather';

/** Every page; `unitId` of a unit with an open alert. */
export function pagesOf(unitId: string): PageToSee[] {
  return [
    { name: 'needs-attention', path: '/', by: DANA },
    { name: 'unit', path: `/units/${unitId}`, by: DANA },
    { name: 'brief', path: `/units/${unitId}/brief`, by: TOMAS },
    { name: 'deliveries', path: '/deliveries', by: DANA },
    { name: 'visits', path: '/visits', by: TOMAS },
    { name: 'regions', path: '/regions', by: AIKO },
    { name: 'alarm-health', path: '/alarm-health', by: OLU },
    { name: 'data-quality', path: '/data-quality', by: OLU },
    { name: 'dead-letters', path: '/dead-letters', by: OLU },
    { name: 'audit', path: '/audit', by: OLU },
    { name: 'rules', path: '/rules', by: OLU },
    { name: 'people', path: '/people', by: OLU },
    { name: 'preferences', path: '/preferences', by: OLU },
  ];
}
