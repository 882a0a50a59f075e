import { saveFile } from '../show/saveFile.ts';

/** So long the reader may take to fetch what was made for it, milliseconds. */
const HELD_MS = 60_000;

/**
 * Opens a file in a tab of its own, or keeps it where none may be opened. It is fetched first: an address alone would not
 * say who asks. To be called in the click that asks for it.
 */
export async function openFetched(name: string, fetched: () => Promise<Blob | undefined>): Promise<void> {
  // Opened at once, while it is still the click that opens it; later it would be held for an advertisement.
  const tab = window.open('', '_blank');
  try {
    const data = await fetched();
    if (!data) throw new Error('The service answered with nothing.');
    if (!tab) {
      saveFile(data, name);
      return;
    }
    const address = URL.createObjectURL(data);
    setTimeout(() => URL.revokeObjectURL(address), HELD_MS);
    tab.location.replace(address);
  } catch (error) {
    tab?.close();
    throw error;
  }
}

/** Has the browser keep a file under a name. */
export async function keepFetched(name: string, fetched: () => Promise<Blob | undefined>): Promise<void> {
  const data = await fetched();
  if (!data) throw new Error('The service answered with nothing.');
  saveFile(data, name);
}
