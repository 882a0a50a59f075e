import { service } from '../api/client.ts';
import { openFetched } from '../api/openFetched.ts';

/** Opens the brief as a PDF, in the paper of the person's country. */
export async function openPdf(unitId: string, visitId: string | undefined): Promise<void> {
  const params = { path: { unitId }, query: visitId === undefined ? {} : { visitId } };
  await openFetched(`brief-${unitId}.pdf`, async () => {
    const { data } = await service.GET('/v1/units/{unitId}/brief.pdf', { params, parseAs: 'blob' });
    return data;
  });
}
