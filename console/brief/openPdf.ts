import { service } from '../api/client.ts';

/** So long the reader may take to fetch what was made for it, milliseconds. */
const HELD_MS = 60_000;

/**
 * Opens the brief as a PDF, in the paper of the person's country. It is fetched first: an address alone would not say
 * who asks.
 */
export async function openPdf(unitId: string, visitId: string | undefined): Promise<void> {
  // Opened at once, while it is still the click that opens it; later it would be held for an advertisement.
  const tab = window.open('', '_blank');
  try {
    const params = { path: { unitId }, query: visitId === undefined ? {} : { visitId } };
    const { data } = await service.GET('/v1/units/{unitId}/brief.pdf', { params, parseAs: 'blob' });
    if (!data) throw new Error('The service answered with nothing.');
    const address = URL.createObjectURL(data);
    setTimeout(() => URL.revokeObjectURL(address), HELD_MS);
    if (tab) tab.location.replace(address);
    else save(address, `brief-${unitId}.pdf`);
  } catch (error) {
    tab?.close();
    throw error;
  }
}

function save(address: string, name: string): void {
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
}
