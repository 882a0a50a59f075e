import type { FleetEvent } from '../alarms/fleetEvent.ts';
import type { Company } from '../store/company.ts';

/** Many units that fell silent together, as people are told of it: once, instead of a notice for each. */
export interface FleetNotice {
  readonly company: Pick<Company, 'companyId' | 'name'>;
  readonly event: FleetEvent;
  /** Where the company's alerts can be looked at. */
  readonly link: string;
}
