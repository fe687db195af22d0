import { execSync } from 'node:child_process'

/** Forks and pseudo-terminals run the bundle, as players do. */
export const setup = (): void => {
  execSync('npm run --silent build', { cwd: new URL('..', import.meta.url), stdio: 'inherit' })
}
