/** Stands in for a decoder of half a megabyte in the bundle: the fonts that are built in are not packed that way. */
export default function unpack() {
  throw new Error('fonts packed as WOFF2 are not read here: build in a WOFF');
}
