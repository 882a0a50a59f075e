import { formatInstant } from '../../../shared/time/instant.ts';
import type { Notice } from '../notice.ts';
import { adviceOf, CAUTION } from './advice.ts';
import { sentenceOf } from './sentence.ts';

/** The JSON that a webhook is sent of a notice: the same text whenever it is made. */
export function webhookBody(notice: Notice): string {
  const { company, unitId, siteId, region, key, change, at, alertId, alert, link, sequence } = notice;
  const { next, handsInside } = adviceOf(notice);
  return JSON.stringify({
    type: `alert.${change}`,
    timestamp: formatInstant(at),
    data: {
      key,
      sequence,
      companyId: company.companyId,
      unitId,
      siteId: siteId ?? null,
      region: region ?? null,
      change,
      alertId,
      alert,
      text: sentenceOf(notice),
      next,
      caution: handsInside ? CAUTION : null,
      link,
    },
  });
}
