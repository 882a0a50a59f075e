/** What an id is made of, as a regular expression. */
export const ID = '[A-Za-z0-9][A-Za-z0-9._-]{0,63}';

const WHOLE = new RegExp(`^${ID}$`);

/** Whether a text is an id of a company, unit, site, region or technician, as `idSchema` judges it. */
export function isId(text: string): boolean {
  return WHOLE.test(text);
}
