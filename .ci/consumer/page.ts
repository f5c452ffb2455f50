import { naturalFrequency } from 'restmass/elements'

Object.assign(globalThis, { frequency: naturalFrequency({ mass: 100, stiffness: 1e5 }) })
