import fc from 'fast-check'

// A counterexample is enough; the smallest one is not looked for.
fc.configureGlobal({ endOnFailure: true })
