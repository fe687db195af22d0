import { execFileSync } from 'node:child_process'

/** Forks and pseudo-terminals run the bundle, as players do. */
export const setup = (): void => {
  execFileSync(process.execPath, ['build.mjs'], { cwd: new URL('..', import.meta.url), stdio: 'inherit' })
}
