import fc from 'fast-check';

/** Any UTF-16, halves of surrogate pairs too. */
export const anyText = fc.array(fc.nat(0xffff)).map((units) => String.fromCharCode(...units));

/** Values that are right in some place by chance, and wrong in most. */
const odd = fc.oneof(
  fc.constantFrom<unknown>(null, true, 0, -1, 1e308, [], {}),
  fc.constantFrom('', '__proto__', 'toString', '\uD800', 'kg', 'L', 'm3', '23:59', 'Nowhere+02:00'),
  fc.constantFrom('0000-02-29', '0050-01-01', '9999-12-31T23:59:59-12:00', '0000-01-01T00:00:00+23:59'),
  // Neither a number nor a text can be made of these.
  fc.constantFrom({ toString: 1, valueOf: 1 }, { length: { toString: 1, valueOf: 1 } }),
  fc.jsonValue(),
);

/** JSON of one of some good values, with up to three of its members, at any depth, replaced by odd ones. */
export function damaged(good: readonly object[]): fc.Arbitrary<string> {
  const replacements = fc.array(fc.tuple(fc.nat(), odd), { maxLength: 3 });
  return fc.tuple(fc.constantFrom(...good), replacements).map(([base, chosen]) => {
    const value = structuredClone(base);
    for (const [where, replacement] of chosen) {
      const places = placesIn(value);
      const place = places[where % places.length];
      if (place) place.holder[place.name] = structuredClone(replacement);
    }
    return JSON.stringify(value);
  });
}

interface Place {
  holder: Record<string, unknown>;
  name: string;
}

function placesIn(value: object): Place[] {
  const holder = value as Record<string, unknown>;
  return Object.entries(holder).flatMap(([name, member]) => [
    { holder, name },
    ...(typeof member === 'object' && member !== null ? placesIn(member) : []),
  ]);
}
