/** What an id is made of, as a regular expression. */
export const ID = '[A-Za-z0-9][A-Za-z0-9._-]{0,63}';

/** A whole id. */
export const WHOLE_ID = new RegExp(`^${ID}$`);

/** Whether a text is an id of a company, unit, site, region or technician, as `idSchema` judges it. */
export function isId(text: string): boolean {
  return WHOLE_ID.test(text);
}
