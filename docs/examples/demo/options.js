// The command line: nothing at all, or a file of a record with what is needed to read it.
import { criterion } from 'restmass'
import { Refusal } from './refusal.js'

const usage = 'npm run demo -- FILE.csv --rate HZ --column NAME --quantity velocity|acceleration [--criterion NAME]'
const known = ['rate', 'column', 'quantity', 'criterion']

/** The options of a run; `file` is null where the invented floor is wanted. */
export function parseOptions(words) {
  const { files, given } = sorted(words)
  if (files.length > 1) throw new Refusal(`one file at a time, got ${files.join(' and ')}`)
  const chosen = { criterion: criterionOf(given.get('criterion') ?? 'VC-E') }
  if (files.length === 0) {
    const orphan = ['rate', 'column', 'quantity'].find((name) => given.has(name))
    if (orphan !== undefined) throw new Refusal(`--${orphan} needs a file; usage: ${usage}`)
    return { ...chosen, file: null }
  }
  const missing = ['rate', 'column', 'quantity'].filter((name) => !given.has(name))
  if (missing.length > 0) throw new Refusal(`missing --${missing.join(', --')}; usage: ${usage}`)
  const quantity = given.get('quantity')
  if (quantity !== 'velocity' && quantity !== 'acceleration') {
    throw new Refusal(`--quantity must be velocity [m/s] or acceleration [m/s²], got '${quantity}'`)
  }
  return { ...chosen, file: files[0], rate: rateOf(given.get('rate')), column: given.get('column'), quantity }
}

function sorted(words) {
  const files = []
  const given = new Map()
  for (let k = 0; k < words.length; k++) {
    if (!words[k].startsWith('-')) {
      files.push(words[k])
      continue
    }
    const [name, attached] = split(words[k].slice(2))
    if (!words[k].startsWith('--') || !known.includes(name))
      throw new Refusal(`unknown option '${words[k]}'; options are --${known.join(', --')}`)
    if (given.has(name)) throw new Refusal(`--${name} is given twice`)
    const value = attached ?? words[++k]
    if (value === undefined || value === '' || value.startsWith('--')) throw new Refusal(`--${name} needs a value`)
    given.set(name, value)
  }
  return { files, given }
}

function split(word) {
  const at = word.indexOf('=')
  return at < 0 ? [word, undefined] : [word.slice(0, at), word.slice(at + 1)]
}

function rateOf(text) {
  const rate = Number(text)
  if (!(rate > 0 && rate < Infinity)) throw new Refusal(`--rate must be a number above 0 [Hz], got '${text}'`)
  return rate
}

function criterionOf(name) {
  try {
    return criterion(name)
  } catch (error) {
    throw new Refusal(`--criterion: ${error.message}`)
  }
}
