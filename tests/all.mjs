// npm test: types, style and what is unused, one after another beside the tests. What they found stands below the tests.
import { spawn } from 'node:child_process'

const run = (command, stdio) =>
  new Promise(done => {
    const child = spawn(command, { shell: true, stdio: ['ignore', stdio, stdio] })
    let said = ''
    for (const stream of [child.stdout, child.stderr]) stream?.on('data', text => (said += text))
    child.once('close', status => done({ command, status, said }))
  })

const beside = async () => {
  const found = []
  for (const name of ['types', 'lint', 'unused']) {
    const { status, said } = await run(`npm run --silent ${name}`, 'pipe')
    if (status !== 0) found.push(`npm run ${name}\n${said}`)
  }
  return found
}

const [tests, found] = await Promise.all([run('vitest run', 'inherit'), beside()])
process.stdout.write(found.join('\n') || 'Types, style and use: nothing found.\n')
process.exitCode = tests.status === 0 && found.length === 0 ? 0 : 1
