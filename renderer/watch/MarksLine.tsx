import type { ReactNode } from 'react';
import type { Mark } from '../../core/circuit/types.ts';
import { MARK_TEXT } from '../app/text.ts';
import { useEngine } from '../store/context.ts';
import type { Role } from '../store/store.ts';

/** Said elsewhere on the screen: by the banner and by the state. */
const SAID: readonly Mark[] = ['simulated', 'unsettled', 'hunting', 'typedByHand'];

/** What lowers the worth of the two large figures, in words. */
export function MarksLine(p: { readonly role: Role; readonly unit: string }): ReactNode {
  const superheat = useEngine(p.role, p.unit, (s) => s.figures.superheat?.marks ?? null) ?? [];
  const subcooling = useEngine(p.role, p.unit, (s) => s.figures.subcooling?.marks ?? null) ?? [];
  const marks = [...new Set([...superheat, ...subcooling])].filter((m) => !SAID.includes(m));
  if (marks.length === 0) return null;
  return <p className="marks-line">{marks.map((m) => MARK_TEXT[m]).join(' · ')}</p>;
}
