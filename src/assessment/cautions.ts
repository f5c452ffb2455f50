import type { IsolationModel } from '../isolation/model.js'

/** What can hurt someone with this hardware, and to whom to defer. */
export function cautionsOf({ diagram, concept }: IsolationModel, moves: boolean): string[] {
  const blocks = Object.entries(diagram.blocks)
  const has = (pattern: RegExp) => blocks.some(([name]) => pattern.test(name))
  const list = ['Heavy and top-heavy loads can tip: check stability, anchorage and seismic restraint with local codes.']
  if (has(/(^|_)(airSpring|gas)$/)) {
    list.push('Air springs are pressure equipment: have them rated, protected and inspected as local codes demand.')
  }
  if (has(/(^|_)actuatorSpring$/)) {
    list.push('Piezo drives carry high voltage: follow local electrical-safety codes.')
  }
  if (blocks.some(([, { role }]) => role === 'actuator')) {
    list.push(
      'A loop that runs away moves the load with full force: limit force and stroke in hardware, with a safe stop.',
    )
  }
  if (moves || has(/(^|_)feedforward$/)) {
    list.push('Moving stages can crush: guard them as local machine-safety codes demand.')
  }
  const scope = concept === 'sixAxis' ? 'linear' : 'linear and for one axis'
  return [...list, `Predictions are ${scope}: verify them by measurement before relying on them.`]
}
