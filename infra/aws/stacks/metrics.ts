import { Duration } from 'aws-cdk-lib';
import { type IMetric, MathExpression, Metric } from 'aws-cdk-lib/aws-cloudwatch';
import type { AlarmValue, MetricSpec } from '../alarmSpec.ts';
import { nameOf, type Watched } from './watched.ts';

/** A metric with the names of this deployment; undefined if it is of a part that is not built. */
function metricOf(
  { namespace, metric: metricName, statistic, dimensions }: MetricSpec,
  watched: Watched,
  period: Duration,
): Metric | undefined {
  const dimensionsMap: Record<string, string> = {};
  for (const [key, part] of Object.entries(dimensions)) {
    const name = typeof part === 'string' ? part : nameOf(part, watched);
    if (name === undefined) return undefined;
    dimensionsMap[key] = name;
  }
  return new Metric({ namespace, metricName, statistic, dimensionsMap, period });
}

/** The metric itself, the sum of several, or a share; undefined if it is of a part that is not built. */
export function valueMetric(value: AlarmValue, watched: Watched, periodSeconds: number): IMetric | undefined {
  const period = Duration.seconds(periodSeconds);
  const metrics = (specs: readonly MetricSpec[]) => {
    const all = specs.flatMap((spec) => metricOf(spec, watched, period) ?? []);
    return all.length === specs.length ? all : undefined;
  };
  if ('sum' in value) {
    const all = metrics(value.sum);
    return all?.length === 1 ? all[0] : all && sumOf(all, period);
  }
  const part = metrics(value.share);
  const whole = metrics(value.in);
  if (!part || !whole) return undefined;
  return new MathExpression({
    expression: `IF(whole >= ${value.ofAtLeast}, part / whole, 0)`,
    usingMetrics: { part: sumOf(part, period, 'p'), whole: sumOf(whole, period, 'w') },
    period,
  });
}

/** What has told nothing in a period counts as 0: CloudWatch User Guide, "Using metric math", `FILL`. */
function sumOf(metrics: readonly Metric[], period: Duration, prefix = 'm'): MathExpression {
  const named = metrics.map((metric, index) => [`${prefix}${index}`, metric] as const);
  return new MathExpression({
    expression: named.map(([id]) => `FILL(${id}, 0)`).join(' + '),
    usingMetrics: Object.fromEntries(named),
    period,
  });
}
