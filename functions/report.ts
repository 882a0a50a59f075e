import { companySalt } from './companySalt.ts';
import type { Ports } from './ports.ts';

/** Where reports are put, under names with folders in them. */
export interface ReportFiles {
  put(name: string, text: string): Promise<void>;
}

/**
 * The function `report`: writes salt.csv of every company. A company whose report fails holds up no other; then it
 * throws at the end, so that the run counts as failed and is tried again.
 */
export function report(ports: Ports, files: ReportFiles): () => Promise<void> {
  return async () => {
    const failures: unknown[] = [];
    for (const { companyId } of await ports.store.companies()) {
      try {
        await files.put(`${companyId}/salt.csv`, await companySalt(ports.store, companyId, ports.now()));
      } catch (error) {
        ports.log.error('a report failed', { companyId, error: String(error) });
        failures.push(error);
      }
    }
    if (failures.length > 0) throw new AggregateError(failures, `${failures.length} reports failed`);
  };
}
