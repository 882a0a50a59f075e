import type { Meter } from './ports.ts';

/** Where counts of a function of the cloud go, and of which it is. */
export interface CloudMeterOptions {
  readonly namespace: string;
  readonly service: string;
  /** Writes a line of the function's log. */
  readonly write: (line: string) => void;
}

/**
 * Counts as Amazon CloudWatch metrics, one log line a count ("Specification: Embedded metric format", Amazon CloudWatch
 * user guide): over all, and by its labels as dimensions. An alarm can add up no more than ten metrics, so the sum over all
 * labels is a metric of its own.
 */
export function cloudMeter({ namespace, service, write }: CloudMeterOptions): Meter {
  return {
    count(counter, by, labels = {}) {
      const names = Object.keys(labels);
      const metric = {
        Namespace: namespace,
        Dimensions: [['service'], ...(names.length > 0 ? [['service', ...names]] : [])],
        Metrics: [{ Name: counter, Unit: 'Count' }],
      };
      const _aws = { Timestamp: Date.now(), CloudWatchMetrics: [metric] };
      write(JSON.stringify({ _aws, service, ...labels, [counter]: by }));
    },
  };
}
