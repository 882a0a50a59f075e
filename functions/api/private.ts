/**
 * Goes with every answer: homes and their people stand in them, so nobody else is to find one on a device, and none is to
 * be taken for something else than it says it is.
 */
export const PRIVATE = { 'cache-control': 'no-store', 'x-content-type-options': 'nosniff' } as const;
