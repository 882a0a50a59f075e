import { type Metrics, MetricUnit } from '@aws-lambda-powertools/metrics';
import type { Meter } from './ports.ts';

/**
 * Counts as Amazon CloudWatch metrics, one log line a count: over all, and by its labels as dimensions. An alarm can
 * add up no more than ten metrics, so the sum over all labels is a metric of its own.
 */
export function cloudMeter(metrics: Metrics): Meter {
  return {
    count(counter, by, labels = {}) {
      const single = metrics.singleMetric();
      if (Object.keys(labels).length > 0) {
        single.addDimensions({});
        single.addDimensions({ ...labels });
      }
      single.addMetric(counter, MetricUnit.Count, by);
    },
  };
}
