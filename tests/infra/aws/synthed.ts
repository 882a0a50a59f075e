import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { App, type CfnElement, type Stack } from 'aws-cdk-lib';
import * as z from 'zod';
import settings from '../../../cdk.json' with { type: 'json' };
import { build } from '../../../infra/aws/app.ts';
import type { Catalogue } from '../../../infra/aws/stacks/catalogue.ts';
import type { CloudTopology } from '../../../infra/aws/cloudTopology.ts';
