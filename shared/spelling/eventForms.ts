import type { WireEvent } from '../events.ts';
import forms from './eventForms.json';
import { type Form, fits, type Members } from './form.ts';

const ENVELOPE: Members = forms.envelope;
const DATA: Members = forms.data;
const made = new Map<string, Form>();

/**
 * The form of a whole event of a type, by which most events are judged without their schemas: to load zod and to make those
 * takes a third of what a bare function's whole start does. Forms are worked out from the schemas beforehand, and a property
 * holds both to one verdict. Undefined where the schema says more than a form can.
 */
export function formOfEvent(type: string): Form | undefined {
  const data = Object.hasOwn(DATA, type) ? DATA[type] : undefined;
  let form = made.get(type);
  if (data && !form) {
    form = { members: { ...ENVELOPE, type: { words: [type] }, data } };
    made.set(type, form);
  }
  return form;
}

/** Whether a value is an event that fits the form of its type. Of what does not only the schema can tell whether it is one, and why not. */
export function isOfForm(value: unknown): value is WireEvent {
  if (typeof value !== 'object' || value === null || !('type' in value)) return false;
  const form = typeof value.type === 'string' ? formOfEvent(value.type) : undefined;
  return form !== undefined && fits(form, value);
}
