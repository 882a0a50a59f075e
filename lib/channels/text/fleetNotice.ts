import { formatInstant } from '../../../shared/time/instant.ts';
import type { FleetNotice } from '../fleetNotice.ts';
import { toGsm } from './gsm.ts';
import { oneLine } from './oneLine.ts';

/** A mail of many units that fell silent together. */
export function fleetMail({ company, event, link }: FleetNotice): { subject: string; text: string } {
  const { region, units, sentence } = event;
  const paragraphs = [
    oneLine(sentence),
    'What to do next: ask the carrier, or look at the gateway of that region, before anybody goes to a unit. None of these units can be watched meanwhile.',
    oneLine(`Units: ${units.join(', ')}`),
    link,
    oneLine(`For ${company.name}, region ${region}.`),
  ];
  return {
    subject: oneLine(`${units.length} units silent at once in ${region}`),
    text: `${paragraphs.join('\n\n')}\n`,
  };
}

/** The same as a short message. */
export function fleetSms({ event: { region, units }, link }: FleetNotice): string {
  return toGsm(oneLine(`${units.length} units silent at once in ${region}: look for one cause. ${link}`));
}

/** The same as the JSON that a webhook is sent. */
export function fleetBody({ company, event, link }: FleetNotice): string {
  const { key, region, since, units, sentence } = event;
  return JSON.stringify({
    type: 'fleet.silent',
    timestamp: formatInstant(since),
    data: { key, companyId: company.companyId, region, unitIds: units, text: oneLine(sentence), link },
  });
}
