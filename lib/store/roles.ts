/** What somebody does at a company; what each may do is told by the routes of the API. */
export const ROLES = ['dispatcher', 'technician', 'analyst', 'owner'] as const;

export type Role = (typeof ROLES)[number];
