import { setTimeout as pause } from 'node:timers/promises';
import { Access, type AccessOptions } from './access.ts';
import { alertItems } from './alertItems.ts';
import { attentionItems } from './attentionItems.ts';
import { auditItems } from './auditItems.ts';
import { claimItems } from './claimItems.ts';
import { companyItems } from './companyItems.ts';
import { factItems } from './factItems.ts';
import { monthItems } from './monthItems.ts';
import { personItems } from './personItems.ts';
import { principalItems } from './principalItems.ts';
import { quarantineItems } from './quarantineItems.ts';
import type { Store } from './store.ts';
import { unitItems } from './unitItems.ts';
import { visitItems } from './visitItems.ts';

/** A store on one DynamoDB table, made by {@link createTable}. docs/data.md says what is kept where. */
export function dynamoStore(options: Omit<AccessOptions, 'pause'> & Partial<AccessOptions>): Store {
  const access = new Access({ pause: async (milliseconds) => pause(milliseconds), ...options });
  return {
    ...factItems(access),
    ...unitItems(access),
    ...alertItems(access),
    ...monthItems(access),
    ...companyItems(access),
    ...quarantineItems(access),
    ...visitItems(access),
    ...principalItems(access),
    ...claimItems(access),
    ...personItems(access),
    ...attentionItems(access),
    ...auditItems(access),
  };
}
