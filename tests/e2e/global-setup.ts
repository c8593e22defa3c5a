import type { TestProject } from 'vitest/node';
import { ensureBrowser } from './browser.ts';
import { buildProgram } from './program.ts';

declare module 'vitest' {
  interface ProvidedContext {
    browserPath: string;
    programRoot: string;
  }
}

/** Builds the program and finds a browser; gives back the call that cleans up. */
export default async function setup(project: TestProject): Promise<() => void> {
  const program = buildProgram();
  project.provide('programRoot', program.root);
  project.provide('browserPath', await ensureBrowser());
  return () => program.remove();
}
