// What the calculators describe, read as the page reads it.
import { readFileSync } from 'node:fs'
import { runInNewContext } from 'node:vm'

const order = [
  'mount',
  'air-spring',
  'active-damping',
  'series-stage',
  'stack',
  'six-axes',
  'feedforward',
  'criterion-check',
]

/** Name and description of every calculator, in the order of the list on the site. */
export function descriptions() {
  return order.map((name) => {
    const text = readFileSync(new URL(`../calculators/${name}.js`, import.meta.url), 'utf8')
    let description
    runInNewContext(text, {
      calculator: (given) => {
        description = given
      },
    })
    return { name, description }
  })
}
