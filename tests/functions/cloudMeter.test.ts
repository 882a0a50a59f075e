import { Metrics } from '@aws-lambda-powertools/metrics';
import { describe, expect, it, vi } from 'vitest';
import { cloudMeter } from '../../functions/cloudMeter.ts';

describe('counting in the cloud', () => {
  it('writes each count over all and by its labels, in the embedded metric format', () => {
    const written: string[] = [];
    const output = vi.spyOn(process.stdout, 'write').mockImplementation((line) => {
      written.push(String(line));
      return true;
    });
    const meter = cloudMeter(new Metrics({ namespace: 'brinebell', serviceName: 'ingest' }));
    meter.count('events_quarantined', 3, { reason: 'not-json' });
    meter.count('events_received', 7);
    output.mockRestore();
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
});
