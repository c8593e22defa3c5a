import { readFileSync } from 'node:fs';
import { ScenarioSchema, type Scenario } from '../../core/plant/scenario.ts';
import { errorText } from '../error-text.ts';
import { fail, ok, type Result } from '../../core/result.ts';

/**
 * Reads a scenario file, with every default filled in.
 *
 * @returns the scenario, or in words what is wrong and where in the file
 */
export function readScenarioFile(path: string): Result<Scenario, string> {
  let text: string;
  try {
    text = readFileSync(path, 'utf8');
  } catch (error) {
    return fail(`it cannot be read: ${errorText(error)}`);
  }
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch (error) {
    return fail(`it is not JSON: ${errorText(error)}`);
  }
  const parsed = ScenarioSchema.safeParse(json);
  if (parsed.success) return ok(parsed.data);
  const [issue] = parsed.error.issues;
  const place =
    issue === undefined || issue.path.length === 0 ? '' : `at ${issue.path.join('.')}: `;
  return fail(`${place}${issue?.message ?? 'it is not a scenario'}`);
}
