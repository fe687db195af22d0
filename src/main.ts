#!/usr/bin/env node
import { run } from './commands/run.ts'
import { prepareEnvironment } from './terminal/environment.ts'

prepareEnvironment()
process.exitCode = await run(process.argv.slice(2))
