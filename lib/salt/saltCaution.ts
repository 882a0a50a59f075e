/** What whoever reads figures of a region must know of its salt and of its drains. */
export const SALT_CAUTION =
  'Salt is taken for sodium chloride, since the registry does not say which salt a house uses, and a drain may lead to a septic field or to another sewer district than the region is named for.';
