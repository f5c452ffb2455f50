import fc from 'fast-check'

// One seed for every property test, so that two runs of the same code agree; FAST_CHECK_SEED=random looks further.
const given = process.env.FAST_CHECK_SEED
if (given !== 'random') fc.configureGlobal({ seed: Number(given ?? 20261125) })
