/** What of our answers is text, and goes through API Gateway as it is; all else is packed in base64 for the way. */
const TEXT = /^(?:text\/|application\/(?:x-ndjson|openmetrics-text)|[^;]*[/+]json\s*(?:;|$))/i;

/** Whether an answer of a media type must be packed. */
export function isBinary(mediaType: string): boolean {
  return !TEXT.test(mediaType);
}
