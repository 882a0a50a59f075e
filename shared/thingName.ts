import { isId } from './idForm.ts';

/** What AWS IoT Core takes as the name of a thing (API reference, ThingAttribute: 1 to 128 of these characters). */
const NAME = /^[a-zA-Z0-9:_-]{1,128}$/;

/** The separator is a colon before what begins an id; a colon before a hyphen stands for a dot, which no name may hold. */
const SEPARATOR = /:(?!-)/;

/** Thrown where ids and the name of a thing do not go together; `code` says how, `advice` what to do about it. */
export class ThingNameError extends Error {
  readonly code: 'name-too-long' | 'no-ids' | 'no-name';
  readonly advice: string;

  constructor(code: ThingNameError['code'], message: string, advice: string) {
    super(message);
    this.code = code;
    this.advice = advice;
  }
}

/**
 * The name under which the meter of a unit is known to AWS IoT Core, which is its MQTT client id too: `company:unit`,
 * each dot written `:-`. No two units share one.
 *
 * @throws ThingNameError `no-ids`; `name-too-long` if it would have over 128 characters, a dot counting as two
 */
export function thingNameOf({ companyId, unitId }: { companyId: string; unitId: string }): string {
  if (!isId(companyId) || !isId(unitId)) {
    throw new ThingNameError(
      'no-ids',
      `${companyId} and ${unitId} are not both ids`,
      'Use ids of A-Z a-z 0-9 . _ - that begin with a letter or a digit.',
    );
  }
  const name = `${companyId}:${unitId}`.replaceAll('.', ':-');
  if (!NAME.test(name)) {
    throw new ThingNameError(
      'name-too-long',
      `${companyId} and ${unitId} make a name of ${name.length} characters, and 128 is the most`,
      'Give the unit a shorter id, or one with fewer dots: a dot counts as two characters.',
    );
  }
  return name;
}

/**
 * The unit of a thing by its name.
 *
 * @throws ThingNameError `no-name` if no unit's meter is called so
 */
export function unitOfThing(name: string): { companyId: string; unitId: string } {
  const [companyId = '', unitId = '', ...more] = name
    .split(SEPARATOR)
    .map((part) => part.replaceAll(':-', '.'));
  const unit = { companyId, unitId };
  const isIds = isId(companyId) && isId(unitId);
  // What no encoding gives is refused too, so that each unit has one name only.
  if (more.length > 0 || !isIds || !NAME.test(name) || thingNameOf(unit) !== name) {
    throw new ThingNameError(
      'no-name',
      `${JSON.stringify(name.slice(0, 200))} is not the name of a meter`,
      'It should be companyId:unitId, with :- for each dot.',
    );
  }
  return unit;
}
