/** Has the browser keep a file. What is fetched and then kept says who asks for it, which a plain link would not. */
export function saveFile(data: Blob, name: string): void {
  const address = URL.createObjectURL(data);
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  // The browser has begun to read it by then.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}
