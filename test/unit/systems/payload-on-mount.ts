import { stateSpace } from '../../../src/systems/index.js'

export const mass = stateSpace({
  A: [[0]],
  B: [[0.5, 0.5]],
  C: [[1]],
  inputs: ['mount', 'load'],
  outputs: ['velocity'],
  states: ['velocity'],
})
export const mount = stateSpace({
  A: [[0]],
  B: [[1]],
  C: [[8], [1]],
  D: [[0.4], [0]],
  inputs: ['velocity'],
  outputs: ['force', 'stretch'],
  states: ['stretch'],
})
export const payloadOnMount = {
  blocks: { payload: mass, mount },
  inputs: ['floor', 'load'],
  outputs: { payload: 'payload.velocity', stretch: 'mount.stretch', floorForce: 'mount.force' },
  wires: {
    'payload.mount': '-mount.force',
    'payload.load': 'load',
    'mount.velocity': ['payload.velocity', '-floor'],
  },
} as const
