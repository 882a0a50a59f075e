import { createTheme, type MantineColorsTuple } from '@mantine/core';

/** Deep water, from the palest to the darkest. The eighth is 7.4:1 on white; our own choice. */
const brine: MantineColorsTuple = [
  '#eaf5f7',
  '#d3e8ec',
  '#a8d2da',
  '#79bac7',
  '#51a2b3',
  '#318a9d',
  '#1d7486',
  '#126475',
  '#0c5463',
  '#083f4b',
];

/** The greys of dark pages, from text to the ground, tinted as the rest of ours. */
const dark: MantineColorsTuple = [
  '#e6e9e8',
  '#cdd4d4',
  '#a3afb2',
  '#86949a',
  '#6a787e',
  '#37434a',
  '#222b2f',
  '#1b2225',
  '#14191b',
  '#0f1315',
];

export const theme = createTheme({
  colors: { brine, dark },
  primaryColor: 'brine',
  // The default shade of a filled button is too pale for text of AA contrast.
  primaryShade: { light: 8, dark: 8 },
  autoContrast: true,
  defaultRadius: 'sm',
  fontFamily: 'system-ui, "Segoe UI", Roboto, "Noto Sans", Ubuntu, sans-serif',
  headings: { fontWeight: '600' },
  cursorType: 'pointer',
  focusRing: 'auto',
});
