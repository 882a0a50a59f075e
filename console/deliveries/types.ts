import type { components } from '../api/generated/api.d.ts';

type Schemas = components['schemas'];

export type Deliveries = Schemas['Deliveries'];
export type DatedUnit = Schemas['DatedUnit'];
export type UnitByRate = Schemas['UnitByRate'];
export type WeekSum = Schemas['DeliveryWeekSum'];
export type Week = Deliveries['weeks'][number];
