import type { components } from '../api/generated/api.d.ts';

type Schemas = components['schemas'];

export type Deliveries = Schemas['Deliveries'];
export type DatedHouse = Schemas['DatedHouse'];
export type HouseByRate = Schemas['HouseByRate'];
export type WeekSum = Schemas['DeliveryWeekSum'];
export type Week = Deliveries['weeks'][number];
