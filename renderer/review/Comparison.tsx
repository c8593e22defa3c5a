import type { ReactNode } from 'react';
import { FIGURE_KEYS, figureRow, figureTold } from '../../core/circuit/figures.ts';
import type { FigureKey, Mode } from '../../core/circuit/types.ts';
import type { Recomputed } from '../../electron/bridge/views.ts';
import { differenceNumber, figureText, fixed, type UnitSystem } from '../app/format.ts';
import { STATE_TEXT } from '../app/text.ts';
import { useUnits } from '../store/context.ts';

interface Props {
  readonly before: Recomputed;
  readonly after: Recomputed;
  readonly mode: Mode;
}

/** Old and new figures side by side. */
export function Comparison({ before, after, mode }: Props): ReactNode {
  const refused = before.refused ?? after.refused;
  if (refused !== null) return <p role="alert">No numbers: {refused}</p>;
  return (
    <table className="comparison">
      <thead>
        <tr>
          <th scope="col">Figure</th>
          <th scope="col" className="number">
            As recorded
          </th>
          <th scope="col" className="number">
            Otherwise
          </th>
          <th scope="col" className="number">
            Change
          </th>
        </tr>
      </thead>
      <tbody>
        <tr>
          <th scope="row">State</th>
          <td className="number">{stateOf(before)}</td>
          <td className="number">{stateOf(after)}</td>
          <td />
        </tr>
        {FIGURE_KEYS.map((key) => (
          <Row key={key} figure={key} before={before} after={after} mode={mode} />
        ))}
      </tbody>
    </table>
  );
}

function stateOf(recomputed: Recomputed): string {
  return recomputed.content === null ? '—' : STATE_TEXT[recomputed.content.state];
}

function Row({ figure, before, after, mode }: Props & { readonly figure: FigureKey }): ReactNode {
  const system = useUnits();
  const was = before.content?.figures[figure];
  const is = after.content?.figures[figure];
  if (was === undefined && is === undefined) return null;
  const told = figureTold(figure, mode);
  return (
    <tr>
      <th scope="row">{told.label}</th>
      <td className="number">{was === undefined ? '—' : figureText(figure, was, mode, system)}</td>
      <td className="number">{is === undefined ? '—' : figureText(figure, is, mode, system)}</td>
      <td className="number">
        {was === undefined || is === undefined
          ? '—'
          : change(figure, told.sign * (is.value - was.value), system)}
      </td>
    </tr>
  );
}

function change(figure: FigureKey, by: number, system: UnitSystem): string {
  const isRatio = figureRow(figure).kind === 'ratio';
  const text = isRatio ? fixed(by, 2) : fixed(differenceNumber(by, system), 1);
  return by > 0 && Number(text) !== 0 ? `+${text}` : text;
}
