import { type Metrics, MetricUnit } from '@aws-lambda-powertools/metrics';
import type { Meter } from './ports.ts';

/** Counts as Amazon CloudWatch metrics, one log line a count with its labels as dimensions. */
export function cloudMeter(metrics: Metrics): Meter {
  return {
    count(counter, by, labels = {}) {
      const single = metrics.singleMetric();
      for (const [name, value] of Object.entries(labels)) single.addDimension(name, value);
      single.addMetric(counter, MetricUnit.Count, by);
    },
  };
}
