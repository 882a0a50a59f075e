import { App, Validations } from 'aws-cdk-lib';
import { AwsSolutionsChecks } from 'cdk-nag';
import { build } from './app.ts';
import { ContextError } from './wishes.ts';

try {
  const app = new App({ analyticsReporting: false });
  build(app, { bundles: process.env.BRINEBELL_BUNDLES ?? 'dist/aws' });
  // What breaks a rule is not deployed.
  Validations.of(app).addPlugins(new AwsSolutionsChecks(app));
  app.synth();
} catch (error) {
  if (!(error instanceof ContextError)) throw error;
  console.error(error.message);
  process.exitCode = 2;
}
