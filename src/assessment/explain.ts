import { fail, scopeOf, show } from '../internal/check.js'
import { whole } from '../internal/whole.js'
import type { LoopMargins } from '../isolation/loop-margins.js'
import { rms } from '../vibration/rms.js'
import type { Assessment } from './assess.js'
import type { AxisAssessment } from './judge-axis.js'
import type { SettledMove } from './judge-moves.js'
import { along, digits } from './reasons.js'

/** An assessment in plain sentences, each with its numbers and units.
 *
 * First the verdict with all that is against it or open, a loop that is not stable with the gains at which it would be and the
 * frequency at each limit, then what is in favour, then along each axis how floor and payload
 * move, then loops, moves and noise, and last the cautions. Frequencies in Hz, velocities in µm/s.
 * @param assessment - of `assess`
 * @returns sentences, the verdict first
 * @throws {@link IsolationError} `invalid-option` for anything else
 * @source common practice, no source
 * @example
 * import { assess, explain, passiveIsolation, spectrum, springMount } from 'restmass'
 * const floor = spectrum({ quantity: 'velocity', frequency: [0.5, 100], amplitudeDensity: [2e-6, 2e-6] })
 * const mount = springMount({ mass: 500, naturalFrequency: 3, dampingRatio: 0.1 })
 * const model = passiveIsolation({ payload: { mass: 500 }, mount })
 * explain(assess(model, { floor, criterion: 'VC-E' }))[0] // 'Fails: worst band of the payload: 6.95 µm/s in the 3.15 Hz band, 2.22 of VC-E.'
 */
export function explain(assessment: Assessment): string[] {
  const scope = scopeOf('explain')
  if (assessment?.kind !== 'Assessment') fail('invalid-option', scope, `needs an Assessment, got ${show(assessment)}`)
  const said = whole(scope, 'Assessment', () => sentences(assessment))
  if (said.some((sentence) => /\bNaN\b/.test(sentence)))
    fail('not-finite', scope, 'needs an Assessment of numbers, got NaN')
  return said
}

function sentences(assessment: Assessment): string[] {
  const { verdict, reasons, loops, allLoops, settling, otherAxes, cautions } = assessment
  const [first = 'nothing stands against it', ...others] = reasons
  const head = { pass: 'Passes', fail: 'Fails', undecided: 'Not decided' }[verdict]
  return [
    `${head}: ${first}.`,
    ...others.map((reason) => `${reason[0].toUpperCase()}${reason.slice(1)}.`),
    ...[assessment, ...otherAxes].flatMap(axisSentences),
    ...loops.flatMap(loopSentence),
    ...(allLoops?.gainReductionMargin == null || loops.length < 2
      ? []
      : [
          `All loops at once bear gains from ${digits(allLoops.gainReductionMargin)} to ${
            allLoops.gainMargin === null ? 'any' : digits(allLoops.gainMargin)
          } times what they are, or phases within ±${digits(allLoops.phaseMarginDegrees as number)}°.`,
        ]),
    ...settling.map(moveSentence),
    ...cautions.map((caution) => `Caution: ${caution}`),
  ]
}

function axisSentences(each: AxisAssessment): string[] {
  const {
    floor,
    rms: level,
    transmissibility,
    worseThanFloor,
    staticCompliance,
    peakCompliance,
    floorForce,
    neighbourBands,
    noise,
  } = each
  const where = along(each)
  const { peak, peakFrequency, isolationFrom } = transmissibility
  const from =
    isolationFrom === null ? 'it does not stay below 1' : `it stays below 1 from ${digits(isolationFrom)} Hz on`
  const sentences = [
    `${where}the floor itself has ${velocity(floor.worst.rms)} in the ${floor.worst.nominal} Hz band, ${digits(floor.worst.ratio)} of ${floor.criterion}`,
    `${where}|T| is ${digits(peak)} at most, at ${digits(peakFrequency)} Hz, and ${from}`,
  ]
  if (level === null || floorForce === null || staticCompliance === null || peakCompliance === null)
    return sentences.map(closed)
  const spans = spansOf(worseThanFloor)
  sentences.push(
    `${where}the payload has ${velocity(level)} rms in all, and moves more than the bare floor ${spans === '' ? 'nowhere' : `from ${spans}`}`,
    `${where}1 N on the payload moves it by ${digits(staticCompliance * 1e6)} µm in the end${mostCompliant(peakCompliance)}`,
    `${where}the force on the floor is ${digits(floorForce)} N rms`,
  )
  if (neighbourBands !== null) {
    const loudest = neighbourBands.bands.reduce((most, band) => (band.rms > most.rms ? band : most))
    sentences.push(`${where}it gives a neighbour ${velocity(loudest.rms)} at most, in the ${loudest.nominal} Hz band`)
  }
  const sources = Object.entries(noise?.contributions ?? {})
  if (sources.length > 1) {
    sentences.push(
      `${where}of that, ${sources.map(([name, part]) => `${velocity(rms(part))} from ${name}`).join(', ')}`,
    )
  }
  const worse = spansOf(noise?.worseThanPassive ?? [])
  if (worse !== '') sentences.push(`${where}the controllers make it worse from ${worse}`)
  return sentences.map(closed)
}

function mostCompliant({ value, frequency }: { readonly value: number; readonly frequency: number }): string {
  return frequency === 0 ? '' : `, and by ${digits(value * 1e6)} µm at ${digits(frequency)} Hz, where it gives way most`
}

/** What a loop bears; of one that is not stable the reasons have said at which gains it would be. */
function loopSentence({ name, margins }: LoopMargins): string[] {
  if (margins.closedLoop !== 'stable') return []
  const { gainMargin, gainReductionMargin, phaseMarginDegrees, delayMargin } = margins
  const bears = [
    gainMargin === null ? 'any more gain' : `up to ${digits(gainMargin)} times its gain`,
    ...(gainReductionMargin === null ? [] : [`no less than ${digits(gainReductionMargin)} of it`]),
    ...(phaseMarginDegrees === null
      ? []
      : [`${digits(Math.abs(phaseMarginDegrees))}° more ${lean(phaseMarginDegrees)}`]),
    ...(delayMargin === null ? [] : [`${digits(delayMargin * 1e3)} ms more delay`]),
  ]
  return [`Loop ${name} by itself bears ${bears.join(', ')}.`]
}

/** Against what a phase margin guards: one below 0 ends by phase lead, as below the corner of a sensor. */
const lean = (phaseMargin: number) => (phaseMargin < 0 ? 'phase lead' : 'phase lag')

function moveSentence(move: SettledMove, k: number): string {
  const { peakDisplacement, peakStretch, peakForce, peakExpansion, peakFloorForce, restsAt, padeOrder } = move
  return closed(
    [
      `move ${k + 1} displaces the payload by ${digits(peakDisplacement * 1e6)} µm at most and stretches the mounts by ${digits(peakStretch * 1e6)} µm`,
      ...(peakForce === null ? [] : [`needs ${digits(peakForce)} N of the actuators`]),
      ...(peakExpansion === null ? [] : [`needs ${digits(peakExpansion * 1e6)} µm of the actuators`]),
      `puts ${digits(peakFloorForce)} N on the floor`,
      ...(Math.abs(restsAt) > 1e-3 * peakDisplacement
        ? [`leaves it ${digits(restsAt * 1e6)} µm from where it was`]
        : []),
      ...(padeOrder === null ? [] : [`delays taken as Padé approximations of order ${padeOrder}`]),
    ].join(', '),
  )
}

function spansOf(intervals: readonly (readonly [number, number])[]): string {
  return intervals.map(([a, b]) => `${digits(a)} to ${digits(b)} Hz`).join(' and ')
}

function velocity(value: number): string {
  return `${digits(value * 1e6)} µm/s`
}

function closed(sentence: string): string {
  return `${sentence[0].toUpperCase()}${sentence.slice(1)}.`
}
