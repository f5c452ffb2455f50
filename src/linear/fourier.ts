import FFT from 'fft.js'

/** Forward discrete Fourier transform of one length; its tables and work space are made once. */
export interface FourierPlan {
  readonly length: number
  /** Writes X_k = Σ x_n e^(−2πi·kn/L). Both arrays are interleaved (re, im), of length 2L, and distinct. */
  readonly transform: (out: Float64Array, data: Float64Array) => void
}

/** The part of fft.js that is used here; the types it ships are `any` throughout. */
interface RadixFour {
  transform(out: Float64Array, data: Float64Array): void
}

const RadixFourTransform = FFT as unknown as new (size: number) => RadixFour

/** Plan of a forward transform of any length: powers of two directly, others as a chirp convolution.
 *
 * @source L. Bluestein, IEEE Trans. Audio and Electroacoustics 18 (1970) 451-455
 */
export function fourierPlan(length: number): FourierPlan {
  if (length === 1) return { length, transform: (out, data) => out.set(data) }
  if (isPowerOfTwo(length)) {
    const radixFour = new RadixFourTransform(length)
    return { length, transform: (out, data) => radixFour.transform(out, data) }
  }
  return chirpPlan(length)
}

/** Smallest power of two that is at least `length`. */
export function powerOfTwoFrom(length: number): number {
  let size = 1
  while (size < length) size *= 2
  return size
}

function isPowerOfTwo(length: number): boolean {
  return powerOfTwoFrom(length) === length
}

/** With kn = (k² + n² − (k − n)²)/2 the transform is a convolution with a chirp, done in a power of two. */
function chirpPlan(length: number): FourierPlan {
  const size = powerOfTwoFrom(2 * length - 1)
  const radixFour = new RadixFourTransform(size)
  const chirp = chirpOf(length)
  const kernel = kernelOf(radixFour, chirp, length, size)
  const padded = new Float64Array(2 * size)
  const folded = new Float64Array(2 * size)
  const transform = (out: Float64Array, data: Float64Array): void => {
    padded.fill(0, 2 * length)
    for (let i = 0; i < 2 * length; i += 2) {
      padded[i] = data[i] * chirp[i] - data[i + 1] * chirp[i + 1]
      padded[i + 1] = data[i] * chirp[i + 1] + data[i + 1] * chirp[i]
    }
    radixFour.transform(folded, padded)
    // The inverse transform is the forward one between two conjugations; the first is taken here, the second below.
    for (let i = 0; i < 2 * size; i += 2) {
      padded[i] = folded[i] * kernel[i] - folded[i + 1] * kernel[i + 1]
      padded[i + 1] = -(folded[i] * kernel[i + 1] + folded[i + 1] * kernel[i])
    }
    radixFour.transform(folded, padded)
    for (let i = 0; i < 2 * length; i += 2) {
      out[i] = folded[i] * chirp[i] + folded[i + 1] * chirp[i + 1]
      out[i + 1] = folded[i] * chirp[i + 1] - folded[i + 1] * chirp[i]
    }
  }
  return { length, transform }
}

/** e^(−πi·n²/L); n² is reduced modulo 2L first, since the angle would lose its digits otherwise. */
function chirpOf(length: number): Float64Array {
  const chirp = new Float64Array(2 * length)
  let square = 0
  for (let n = 0; n < length; n++) {
    chirp[2 * n] = Math.cos((Math.PI * square) / length)
    chirp[2 * n + 1] = -Math.sin((Math.PI * square) / length)
    square = (square + 2 * n + 1) % (2 * length)
  }
  return chirp
}

/** Transform of the conjugate chirp, wrapped around to negative indices and divided by the size of the inverse. */
function kernelOf(radixFour: RadixFour, chirp: Float64Array, length: number, size: number): Float64Array {
  const wrapped = new Float64Array(2 * size)
  for (let n = 0; n < length; n++) {
    const mirror = (size - n) % size
    wrapped[2 * n] = wrapped[2 * mirror] = chirp[2 * n] / size
    wrapped[2 * n + 1] = wrapped[2 * mirror + 1] = -chirp[2 * n + 1] / size
  }
  const kernel = new Float64Array(2 * size)
  radixFour.transform(kernel, wrapped)
  return kernel
}
