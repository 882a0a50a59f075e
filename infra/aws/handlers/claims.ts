import type { PreTokenGenerationV2TriggerEvent } from 'aws-lambda';
import { claims } from '../../../functions/claims.ts';

export const handler = async (event: PreTokenGenerationV2TriggerEvent) => claims(event);
