import fc from 'fast-check';

/** Words as people write them, and as they should not: markup, controls, half surrogates, other directions of writing. */
const piece = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 30 }),
  fc.string({ unit: 'grapheme', maxLength: 30 }),
  fc.constantFrom(
    '<script>alert(1)</script>',
    '"><img src=x onerror=alert(1)>',
    "' onload='x",
    '&lt;b&gt; &amp;',
    '</title></style>',
    ']]>',
    '\u202eevil\u2066',
    'שדרות הרצל 12 (הגדול)',
    'شارع الملك فيصل ١٢، الطابق',
    'Łódź ΑΒΓ Привет 東京',
    'W'.repeat(150),
    'word '.repeat(60),
  ),
);

const text = (most: number) =>
  fc
    .array(piece, { minLength: 1, maxLength: 8 })
    // As schemas let them through: of some length, and not blank.
    .map((pieces) => pieces.join(' ').slice(0, most).trim() || 'x');

/** What people of a company may have written down about a visit and its site. */
export const anyGiven = fc.record({
  site: fc.record({ name: text(120), address: text(400) }),
  companyName: text(128),
  technician: text(128),
  reason: text(2000),
});
