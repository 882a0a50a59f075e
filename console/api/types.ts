import type { components } from './generated/api.d.ts';

type Schemas = components['schemas'];

export type Me = Schemas['Me'];
export type Person = Schemas['Person'];
export type Role = Person['role'];
export type AttentionRow = Schemas['Attention'];
export type PlannedVisit = Schemas['UnitVisit'];
export type ProblemBody = Schemas['Problem'];
export type WhatIfResult = Schemas['WhatIf'];
