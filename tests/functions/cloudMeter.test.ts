import { Metrics, MetricUnit } from '@aws-lambda-powertools/metrics';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { cloudMeter } from '../../functions/cloudMeter.ts';

afterEach(() => vi.restoreAllMocks());

/** What Powertools for AWS Lambda writes of a count, in the same format. */
function byPowertools(counter: string, by: number, labels: Record<string, string>): unknown {
  const written: string[] = [];
  vi.spyOn(process.stdout, 'write').mockImplementation((line) => {
    written.push(String(line));
    return true;
  });
  const single = new Metrics({ namespace: 'brinebell', serviceName: 'ingest' }).singleMetric();
  if (Object.keys(labels).length > 0) {
    single.addDimensions({});
    single.addDimensions(labels);
  }
  single.addMetric(counter, MetricUnit.Count, by);
  vi.restoreAllMocks();
  return JSON.parse(written.join(''));
}

describe('counting in the cloud', () => {
  it('writes each count over all and by its labels, in the embedded metric format', () => {
    const written: string[] = [];
    const meter = cloudMeter({
      namespace: 'brinebell',
      service: 'ingest',
      write: (line) => written.push(line),
    });
    meter.count('events_quarantined', 3, { reason: 'not-json' });
    meter.count('events_received', 7);
    const [quarantined, received] = written.map((line) => JSON.parse(line));
    expect(quarantined).toMatchObject({ events_quarantined: 3, reason: 'not-json', service: 'ingest' });
    const [metric] = quarantined._aws.CloudWatchMetrics;
    expect(metric).toMatchObject({
      Namespace: 'brinebell',
      Metrics: [{ Name: 'events_quarantined', Unit: 'Count' }],
    });
    // Without the set of `service` alone no alarm could go by how many were set aside in all.
    expect(metric.Dimensions).toHaveLength(2);
    expect(metric.Dimensions).toEqual(expect.arrayContaining([['service'], ['service', 'reason']]));
    expect(received).toMatchObject({ events_received: 7, service: 'ingest' });
    expect(received._aws.CloudWatchMetrics[0].Dimensions).toEqual([['service']]);
    expect(received.reason).toBeUndefined();
  });

  it('as Powertools writes them', () => {
    for (const labels of [{}, { reason: 'not-json' }, { channel: 'mail', reason: 'b' }]) {
      const written: string[] = [];
      const meter = cloudMeter({
        namespace: 'brinebell',
        service: 'ingest',
        write: (line) => written.push(line),
      });
      meter.count('notices_failed', 2, labels);
      const ours = JSON.parse(written.join(''));
      const theirs = byPowertools('notices_failed', 2, labels);
      expect(Number.isInteger(ours._aws.Timestamp)).toBe(true);
      expect(theirs).toMatchObject({ ...ours, _aws: { CloudWatchMetrics: expect.anything() } });
      const [mine] = ours._aws.CloudWatchMetrics;
      expect(theirs).toMatchObject({
        _aws: {
          CloudWatchMetrics: [{ ...mine, Dimensions: expect.arrayContaining(mine.Dimensions) }],
        },
      });
    }
  });
});
