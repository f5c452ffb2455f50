// The demonstration: seven ways to keep a payload still, on an invented floor or on a record of your own.
//
//     npm run demo
//     npm run demo -- FILE.csv --rate HZ --column NAME --quantity velocity|acceleration
import { run } from './demo/run.js'

process.exitCode = await run(process.argv.slice(2), { print: console.log, complain: console.error })
