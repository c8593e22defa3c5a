import { useMemo } from 'react';
import { conditionsOf } from '../../core/diagnosis/conditions.ts';
import { targetsFor } from '../../core/diagnosis/targets.ts';
import type { Target } from '../../core/diagnosis/types.ts';
import { useApp, useConfig, useEngine, useJobUnit } from '../store/context.ts';
import type { Role } from '../store/store.ts';
import { inputFor } from './asked.ts';
import { useAsked } from './use-asked.ts';

function plated(quantity: Target['quantity'], value: number): Target {
  const source = { code: 'nameplate' } as const;
  return { quantity, value, u: 0, low: value, high: value, source, fromMemory: false };
}

/**
 * What superheat or subcooling of a unit should be here and now: by the maker's chart, the nameplate,
 * a published chart or the range of a procedure, as the judgement takes it.
 *
 * @returns null where no target applies
 */
export function useTarget(
  role: Role,
  unit: string,
  quantity: 'superheat' | 'subcooling',
): Target | null {
  const state = useEngine(role, unit, (s) => s);
  const config = useConfig(role, unit);
  const jobUnit = useJobUnit(unit);
  const session = useApp((s) => s[role]?.sessionId ?? null);
  const findings = useApp((s) => s.job?.findings);
  const [asked] = useAsked(unit, config?.mode === 'heating');
  return useMemo(() => {
    if (state === null || config === null) return null;
    const judged = { config, state, snapshot: null, session, pattern: null, stood: null };
    const input = inputFor(judged, asked, jobUnit, findings ?? [], []);
    if (input === null) return null;
    const { targets } = targetsFor(input, conditionsOf(input.content, config));
    const target = targets.find((one) => one.quantity === quantity);
    if (target !== undefined) return target;
    // What a person typed from the plate is shown even where the charge is not judged by it; but a
    // plate tells of cooling.
    if (config.mode !== 'cooling') return null;
    const plate =
      input.nameplate[quantity === 'superheat' ? 'targetSuperheat_K' : 'targetSubcooling_K'];
    return plate === null ? null : plated(quantity, plate);
  }, [state, config, session, jobUnit, findings, asked, quantity]);
}
