import { SFNClient } from '@aws-sdk/client-sfn';
import { type Trials, trialsOf } from '../../../functions/trial/trials.ts';
import { ENVIRONMENT } from '../environment.ts';
import { CLIENT_OPTIONS } from './clientOptions.ts';
import { bucketFiles } from './files.ts';
import { setting } from './setting.ts';
import { trialRunner } from './trialRunner.ts';

/** Trials of rules by the workflow that the environment names. */
export function cloudTrials(): Trials {
  return trialsOf(bucketFiles(), trialRunner(new SFNClient(CLIENT_OPTIONS), setting(ENVIRONMENT.trials)));
}
