import type { ReactNode } from 'react';

/** The Job room. */
export function JobScreen(): ReactNode {
  return <main className="room" />;
}
