import * as z from 'zod';
import { idSchema } from '../../shared/ids.ts';

/** The unit in an address. */
export const unitParams = z.object({ unitId: idSchema });
