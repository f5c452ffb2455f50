// Seven ways to carry one invented payload of a tonne with a moving stage.
import {
  activelyDampedIsolation,
  airSpring,
  elastomerMount,
  geophone,
  levellingValve,
  parallelActiveIsolation,
  passiveIsolation,
  piezoStack,
  pneumaticIsolation,
  seriesActiveIsolation,
  springMount,
  stackedIsolation,
  standardGravity,
  voiceCoil,
} from 'restmass'

/** What is to be kept still: an instrument frame with a scanning stage on it [kg]. */
export const payload = { mass: 1000 }

const feet = 4
const load = (payload.mass * standardGravity) / feet

/** The candidates, simplest first: name, one line on what it is, and the model. */
export function candidates() {
  return [rubberMounts(), steelSprings(), airSprings(), dampedAirSprings(), parallelActive(), seriesActive(), stack()]
}

function rubberMounts() {
  const mount = elastomerMount({ stiffness: 8.5e5, lossFactor: 0.15, band: [2, 200] })
  return {
    name: 'rubber mounts',
    what: '4 rubber mounts, loss factor 0.15',
    model: passiveIsolation({ payload, mount, count: feet }),
  }
}

function steelSprings() {
  const mount = springMount({ mass: payload.mass / feet, naturalFrequency: 3.2, dampingRatio: 0.04 })
  return {
    name: 'steel springs',
    what: '4 coil springs, 3.2 Hz, damping ratio 0.04',
    model: passiveIsolation({ payload, mount, count: feet }),
  }
}

function airSprings() {
  return {
    name: 'air springs',
    what: '4 two-chamber air springs, mechanical levelling valves',
    model: pneumaticIsolation({ payload, mount: twoChamberSpring(), count: feet, levelling: levelling() }),
  }
}

function dampedAirSprings() {
  return {
    name: 'damped air springs',
    what: 'the same air springs, geophone and voice coils that damp the payload in space',
    model: activelyDampedIsolation({
      payload,
      mount: twoChamberSpring(),
      count: feet,
      levelling: levelling(),
      damping: { dampingRatio: 0.5, sensor: slowGeophone(), actuator: motor(), delay: 0.5e-3 },
    }),
  }
}

function parallelActive() {
  return {
    name: 'parallel active',
    what: 'air springs with motors: velocity and acceleration feedback, feedforward of the stage',
    model: parallelActiveIsolation({
      payload,
      mount: twoChamberSpring(),
      count: feet,
      levelling: levelling(),
      feedback: {
        velocityGain: 12000,
        accelerationGain: 300,
        sensor: slowGeophone(),
        actuator: motor(),
        delay: 0.5e-3,
      },
      feedforward: { gain: 0.97, delay: 0.2e-3, actuator: motor() },
    }),
  }
}

function seriesActive() {
  return {
    name: 'series active',
    what: 'rubber on an active stage of piezo stacks with a geophone',
    model: seriesActiveIsolation({ payload, mount: stageRubber(), count: feet, activeStage: activeStage() }),
  }
}

function stack() {
  return {
    name: 'stack',
    what: 'damped air springs on a frame that stands on the active stage',
    model: stackedIsolation({
      lower: {
        concept: 'seriesActive',
        payload: { mass: 300 },
        mount: stageRubber(),
        count: feet,
        activeStage: activeStage(),
      },
      upper: {
        concept: 'activelyDamped',
        payload,
        mount: twoChamberSpring(),
        count: feet,
        levelling: levelling(),
        damping: { dampingRatio: 0.5, sensor: slowGeophone(), actuator: motor(), delay: 0.5e-3 },
      },
    }),
  }
}

function twoChamberSpring() {
  return airSpring({
    area: 0.01,
    volume: 0.8e-3,
    load,
    diaphragmStiffness: 1500,
    diaphragmDamping: 20,
    dampingChamber: { volume: 1.6e-3, flowResistance: 'optimal' },
  })
}

function levelling() {
  return levellingValve({ flowGain: 1e-3, deadBand: 50e-6 })
}

function slowGeophone() {
  return geophone({ naturalFrequency: 0.5, dampingRatio: 0.7 })
}

/** All voice coils together. */
function motor() {
  return voiceCoil({ forceConstant: 30, resistance: 3, bandwidth: 400, maxForce: 120 })
}

function stageRubber() {
  return elastomerMount({ stiffness: 1.2e6, lossFactor: 0.25, band: [2, 200] })
}

function activeStage() {
  return {
    mass: 60,
    actuator: piezoStack({ stiffness: 1e9, damping: 6e4, stroke: 40e-6, bandwidth: 2000 }),
    sensor: geophone({ naturalFrequency: 0.03, dampingRatio: 0.7 }),
    sensorLocation: 'activeStage',
    controller: { gain: 15, highPass: 1.5, lowPass: 5 },
    delay: 0.1e-3,
  }
}
