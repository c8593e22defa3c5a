import type { ReactNode } from 'react';

/** The Review room. */
export function ReviewScreen(): ReactNode {
  return <main className="room" />;
}
