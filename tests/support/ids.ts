import fc from 'fast-check';

const first = fc.constantFrom(...'ABZabz019');
const rest = fc.string({ unit: fc.constantFrom(...'AZaz09._-'), maxLength: 63 });

/** Any id that the contract allows, dots and hyphens included. */
export const anyId = fc.tuple(first, rest).map((parts) => parts.join(''));
