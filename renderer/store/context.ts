import { createContext, useCallback, useContext } from 'react';
import { useStore } from 'zustand';
import { say } from '../../electron/bridge/errors.ts';
import type { CommandArgs, CommandName, CommandResults } from '../../electron/bridge/commands.ts';
import type { RunPattern, StoodStill } from '../../core/diagnosis/types.ts';
import type { SwapQuestion } from '../../core/radio/swap-check.ts';
import type { EngineConfig, EngineState } from '../../core/engine-types.ts';
import type { SessionView } from '../../electron/bridge/views.ts';
import type { Unit } from '../../core/record/job.ts';
import type { Bridge } from '../../electron/bridge/client.ts';
import { notify, type AppState, type AppStore, type Role } from './store.ts';

/** What every component may reach for: the store and the bridge. */
export interface Services {
  readonly store: AppStore;
  readonly bridge: Bridge;
}

export const ServicesContext = createContext<Services | null>(null);

/** The store and the bridge of the running program. */
export function useServices(): Services {
  const services = useContext(ServicesContext);
  if (services === null) throw new Error('a component stands outside ServicesContext');
  return services;
}

/** A part of the state. The selector must return a primitive or a part as it is kept. */
export function useApp<T>(select: (state: AppState) => T): T {
  return useStore(useServices().store, select);
}

/** Runs a command; null where it failed. */
export type Command = <C extends CommandName>(
  name: C,
  args: CommandArgs<C>,
) => Promise<CommandResults[C] | null>;

/** A stable function that runs a command; a failure is shown as a notice and gives null. */
export function useCommand(): Command {
  const { store, bridge } = useServices();
  return useCallback(
    async (name, args) => {
      const result = await bridge.call(name, args);
      if (result.ok) return result.value;
      notify(store, 'error', say(result.error));
      return null;
    },
    [store, bridge],
  );
}

type UnitView = SessionView['units'][number];

function unitOf(state: AppState, role: Role, unit: string): UnitView | undefined {
  return state[role]?.units.find((u) => u.unit === unit);
}

/** A part of one unit's engine state; null where the session or unit is gone. */
export function useEngine<T>(
  role: Role,
  unit: string,
  select: (state: EngineState) => T,
): T | null {
  return useApp((state) => {
    const view = unitOf(state, role, unit);
    return view === undefined ? null : select(view.state);
  });
}

/** What the engine of one unit assumes. */
export function useConfig(role: Role, unit: string): EngineConfig | null {
  return useApp((state) => unitOf(state, role, unit)?.config ?? null);
}

/** How the compressor of one unit started and stopped in the session so far. */
export function usePattern(role: Role, unit: string): RunPattern | null {
  return useApp((state) => unitOf(state, role, unit)?.pattern ?? null);
}

/** What one unit told while it stood still in the session. */
export function useStood(role: Role, unit: string): StoodStill | null {
  return useApp((state) => unitOf(state, role, unit)?.stood ?? null);
}

const NO_QUESTIONS: readonly SwapQuestion[] = [];

/** Sensors of one unit that look exchanged. */
export function useQuestions(role: Role, unit: string): readonly SwapQuestion[] {
  return useApp((state) => unitOf(state, role, unit)?.questions ?? NO_QUESTIONS);
}

/** The unit as the job describes it. */
export function useJobUnit(unit: string): Unit | null {
  return useApp((state) => state.job?.units.find((u) => u.key === unit) ?? null);
}

/** The chosen system of units. */
export function useUnits(): AppState['settings']['units'] {
  return useApp((state) => state.settings.units);
}
