import type { components } from '../api/generated/api.d.ts';

type Schemas = components['schemas'];

export type Story = Schemas['Story'];
export type StoryUnit = Story['unit'];
export type StoryDay = Story['days'][number];
export type StoryRegeneration = Story['regenerations'][number];
export type VisitDone = Story['visits'][number];
export type VisitPlanned = Story['planned'][number];
export type Alert = Schemas['Alert'];
export type Advice = Schemas['SettingsAdvice'];
export type Outcome = NonNullable<Advice['advice']>['today'];
export type Brief = Schemas['Brief'];
