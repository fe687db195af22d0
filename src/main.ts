#!/usr/bin/env -S node --max-semi-space-size=1 --optimize-for-size
import { run } from './commands/run.ts'
import { prepareEnvironment } from './terminal/environment.ts'

prepareEnvironment()
process.exitCode = await run(process.argv.slice(2))
