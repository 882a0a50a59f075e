import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { App } from 'aws-cdk-lib';
import { AwsSolutionsChecks } from 'cdk-nag';
import { it } from 'vitest';
import settings from '../../../cdk.json' with { type: 'json' };
import { build } from '../../../infra/aws/app.ts';
import { FUNCTIONS } from '../../../infra/topology.ts';
it('x', () => {
  const dir = mkdtempSync(join(tmpdir(), 'bb-'));
  for (const n of [...Object.keys(FUNCTIONS), 'publish']) { mkdirSync(join(dir, n)); writeFileSync(join(dir, n, 'index.mjs'), '//'); }
  console.time('build');
  const app = new App({ outdir: '/tmp/bbout', analyticsReporting: false, context: { ...settings.context, stage: 'small' } });
  build(app, { bundles: dir });
  console.timeEnd('build');
  console.time('synth');
  app.synth();
  console.timeEnd('synth');
  console.time('nag');
  const pack = new AwsSolutionsChecks(app);
  console.log(JSON.stringify(pack.validateScope(app), undefined, 1));
  console.timeEnd('nag');
});
