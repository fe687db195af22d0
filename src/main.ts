#!/usr/bin/env -S node --max-semi-space-size=1 --optimize-for-size
import { run } from './cli/run.ts'
import { prepareEnvironment } from './terminal/environment.ts'

prepareEnvironment()
// A reader that has seen enough (`| head`) is no trouble.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit(0)
})
process.exitCode = await run(process.argv.slice(2))
