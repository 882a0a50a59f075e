import { createColumnHelper, tableFeatures } from '@tanstack/react-table';
import { ActCell } from './cells/ActCell.tsx';
import { HardWaterCell } from './cells/HardWaterCell.tsx';
import { RegenerationCell } from './cells/RegenerationCell.tsx';
import { SaltCell } from './cells/SaltCell.tsx';
import { SiteCell } from './cells/SiteCell.tsx';
import { SureCell } from './cells/SureCell.tsx';
import { VisitCell } from './cells/VisitCell.tsx';
import { WrongCell } from './cells/WrongCell.tsx';
import type { Row } from './rows.ts';

/** Filtering and sorting are done before the table: it is given only the rows that are seen. */
export const features = tableFeatures({});

const helper = createColumnHelper<typeof features, Row>();

export const columns = helper.columns([
  helper.display({ id: 'site', header: 'Site', cell: ({ row }) => <SiteCell row={row.original} /> }),
  helper.display({
    id: 'wrong',
    header: 'What is wrong',
    cell: ({ row }) => <WrongCell row={row.original} />,
  }),
  helper.display({ id: 'sure', header: 'How sure', cell: ({ row }) => <SureCell row={row.original} /> }),
  helper.display({
    id: 'hard',
    header: 'Hard-water days',
    cell: ({ row }) => <HardWaterCell row={row.original} />,
  }),
  helper.display({ id: 'salt', header: 'Salt lasts', cell: ({ row }) => <SaltCell row={row.original} /> }),
  helper.display({
    id: 'regeneration',
    header: 'Regenerates next',
    cell: ({ row }) => <RegenerationCell row={row.original} />,
  }),
  helper.display({ id: 'visit', header: 'Visit', cell: ({ row }) => <VisitCell row={row.original} /> }),
  helper.display({ id: 'act', header: 'Acts', cell: ({ row }) => <ActCell row={row.original} /> }),
]);
