/** Streets of the demonstration, all invented. */
const STREETS = [
  'Mill Lane',
  'Cooper’s Row',
  'Heron Street',
  'Old Quarry Road',
  'Saltmarsh Avenue',
  'Upper Weir Walk',
  'Lark Rise',
  'Brickfield Close',
  'Juniper Court',
  'Harbour Steps',
  'Ninefields Drive',
  'Station Parade',
] as const;
const HOUSES_A_STREET = 17;

/** What people call the n-th site of the demonstration, from 0. */
export function demoSite(index: number): { name: string; address: string } {
  const street = STREETS[index % STREETS.length];
  const house = 1 + 2 * (Math.floor(index / STREETS.length) % HOUSES_A_STREET) + (index % 2);
  const name = `${house} ${street}`;
  return { name, address: `${name}, Larkfield` };
}
