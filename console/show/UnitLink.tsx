import { Link } from '@tanstack/react-router';
import type { ReactNode } from 'react';

interface UnitLinkProps {
  readonly unitId: string;
  readonly className?: string | undefined;
  readonly children: ReactNode;
}

/** To the story of a unit. */
export function UnitLink({ unitId, className, children }: UnitLinkProps) {
  return (
    <Link to="/units/$unitId" params={{ unitId }} className={className}>
      {children}
    </Link>
  );
}
