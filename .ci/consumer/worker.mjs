// Computes in a worker thread and reads the record on the other side.
import { deepStrictEqual } from 'node:assert'
import { isMainThread, parentPort, Worker } from 'node:worker_threads'
import { magnitude, passiveIsolation, transmissibility } from 'restmass'

const series = () => {
  const mount = { stiffness: 1e5, damping: 500 }
  return transmissibility(passiveIsolation({ payload: { mass: 100 }, mount }), [1, 10, 100])
}

if (isMainThread) {
  const worker = new Worker(new URL(import.meta.url))
  worker.on('message', (record) => {
    deepStrictEqual(record, series())
    deepStrictEqual(magnitude(record), magnitude(series()))
    console.log('a worker thread: the same record')
  })
} else {
  parentPort.postMessage(series())
}
