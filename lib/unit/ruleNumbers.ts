import * as z from 'zod';

/** A part of something, 0 to 1. */
export const share = () => z.number().min(0).max(1);

/** How often something happens, in the unit of its rule's name, 0 or more. */
export const rate = () => z.number().min(0);
