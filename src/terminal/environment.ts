/**
 * Call first in the program, before Ink, React or chalk are loaded (so load screens by `await import()`):
 * all three read the environment once, while loading.
 *
 * - On a terminal, `CI` and its kin would make Ink draw nothing until the end, and `DEV` look for its tools.
 * - `NO_COLOR` (no-color.org: set and not empty) is unknown to chalk; `FORCE_COLOR` from the user wins.
 */
export const prepareEnvironment = (
  environment: NodeJS.ProcessEnv = process.env,
  onTerminal: boolean = process.stdout.isTTY === true,
): void => {
  environment.NODE_ENV = 'production'
  delete environment.DEV
  if (onTerminal) {
    delete environment.CI
    delete environment.CONTINUOUS_INTEGRATION
  }
  if (environment.NO_COLOR && environment.FORCE_COLOR === undefined) environment.FORCE_COLOR = '0'
}
