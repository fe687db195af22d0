import { describe, expect, it } from 'vitest'
import { prepareEnvironment } from '../../src/terminal/environment.ts'

const prepared = (environment: NodeJS.ProcessEnv, onTerminal = true): NodeJS.ProcessEnv => {
  prepareEnvironment(environment, onTerminal)
  return environment
}

describe('before Ink and React are loaded', () => {
  it('a terminal is drawn on also where CI is set; a file or pipe keeps it', () => {
    expect(prepared({ CI: 'true', CONTINUOUS_INTEGRATION: '1' })).toEqual({ NODE_ENV: 'production' })
    expect(prepared({ CI: 'true' }, false)).toEqual({ CI: 'true', NODE_ENV: 'production' })
  })

  // no-color.org: "when present and not an empty string (regardless of its value)".
  it('NO_COLOR is honored, unless it is empty or FORCE_COLOR says otherwise', () => {
    expect(prepared({ NO_COLOR: '1' }).FORCE_COLOR).toBe('0')
    expect(prepared({ NO_COLOR: '' }).FORCE_COLOR).toBeUndefined()
    expect(prepared({ NO_COLOR: '1', FORCE_COLOR: '3' }).FORCE_COLOR).toBe('3')
    expect(prepared({}).FORCE_COLOR).toBeUndefined()
  })

  it('React runs as a product, whatever the shell says', () => {
    expect(prepared({ NODE_ENV: 'development', DEV: 'true' })).toEqual({ NODE_ENV: 'production' })
  })
})
