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
    const address = URL.createObjectURL(data);
    setTimeout(() => URL.revokeObjectURL(address), HELD_MS);
    if (tab) tab.location.replace(address);
    else save(address, name);
  } catch (error) {
    tab?.close();
    throw error;
  }
}

/** Has the browser keep a file under a name. */
export async function keepFetched(name: string, fetched: () => Promise<Blob | undefined>): Promise<void> {
  const data = await fetched();
  if (!data) throw new Error('The service answered with nothing.');
  const address = URL.createObjectURL(data);
  setTimeout(() => URL.revokeObjectURL(address), HELD_MS);
  save(address, name);
}

function save(address: string, name: string): void {
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
}
