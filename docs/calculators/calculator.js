// One calculator on a page: inputs, the numbers, the figures and the program that gives them. A classic script, so that pages
// open from disk; it needs the globals `restmass`, `vega` and `vegaLite`.

/** Shows a calculator in the element `#calculator`.
 *
 * `inputs` maps names to { label, value, unit?, times?, from?, to?, scale?, choices?, file? }; a number goes to `compute` multiplied by
 * `times`. `compute` takes what it needs of the package and the inputs, and returns { values: [what, value, unit][], figures }. What
 * the page shows as its program is the text of `compute`.
 */
globalThis.calculator = (description) => {
  const place = document.querySelector('#calculator')
  const names = Object.keys(description.inputs)
  const fields = Object.fromEntries(names.map((name) => [name, field(name, description.inputs[name], update)]))
  const form = element('form', { className: 'inputs' }, ...names.map((name) => fields[name].element))
  form.addEventListener('submit', (event) => event.preventDefault())
  const alert = element('p', { role: 'alert', className: 'alert' })
  const table = element('table', { className: 'values' })
  const figures = element('section', { className: 'figures', ariaLabel: 'Figures' })
  const code = element('code')
  const copy = element('button', { type: 'button', textContent: 'Copy' })
  copy.addEventListener('click', () => navigator.clipboard?.writeText(code.textContent))
  place.append(
    element('h1', { textContent: description.title }),
    element('p', { className: 'question', textContent: description.question }),
    element(
      'div',
      { className: 'columns' },
      element('section', { ariaLabel: 'Inputs and results' }, form, alert, table),
      figures,
    ),
    element('details', { open: true }, element('summary', { textContent: 'The program behind it' }), copy, pre(code)),
    element(
      'section',
      { className: 'cautions' },
      ...description.cautions.map((text) => element('p', { textContent: text })),
    ),
  )
  let pending = false
  let waiting = null
  let latest = []

  function update() {
    const inputs = Object.fromEntries(names.map((name) => [name, fields[name].read()]))
    code.textContent = program(description, inputs)
    const start = performance.now()
    const outcome = attempt(() => description.compute(restmass, inputs))
    place.dataset.milliseconds = performance.now() - start
    alert.textContent = outcome.refused ?? ''
    table.replaceChildren(...(outcome.values ?? []).map(row))
    latest = outcome.figures ?? []
    if (!pending) requestAnimationFrame(draw)
    pending = true
    clearTimeout(waiting)
    waiting = setTimeout(remember, 150)

    async function draw() {
      pending = false
      const begin = performance.now()
      await show(figures, latest)
      place.dataset.drawn = performance.now() - begin
    }
  }

  /** The inputs as the part of the address behind #, so that a link carries them. */
  function remember() {
    const state = new URLSearchParams(names.flatMap((name) => fields[name].state().map((text) => [name, text])))
    history.replaceState(null, '', `#${state}`)
  }

  function recall() {
    const state = new URLSearchParams(location.hash.slice(1))
    for (const name of names) if (state.has(name)) fields[name].write(state.get(name))
    update()
  }

  addEventListener('hashchange', recall)
  addEventListener('resize', update)
  recall()
}

function attempt(compute) {
  try {
    return compute()
  } catch (error) {
    if (!restmass.isIsolationError(error)) throw error
    return { refused: error.message }
  }
}

/** The text of `compute` as a program of its own, with the inputs as constants. */
function program({ inputs, compute }, values) {
  const [, needs, body] = /^[^{]*\{([^}]*)\}[^{]*\{[^}]*\},?\s*\)\s*=>\s*\{\n(.*)\}$/s.exec(compute.toString())
  const constants = Object.entries(values).map(([name, value]) =>
    inputs[name].file
      ? `const ${name} = readFileSync('record.csv', 'utf8')`
      : `const ${name} = ${typeof value === 'string' ? `'${value}'` : value}`,
  )
  const indent = /^ */.exec(body)[0]
  const lines = body
    .trimEnd()
    .split('\n')
    .map((line) => line.replace(indent, ''))
  return [
    ...(Object.values(inputs).some(({ file }) => file) ? ["import { readFileSync } from 'node:fs'"] : []),
    imported(needs.trim().replace(/,$/, '').split(/,\s*/)),
    '',
    ...constants,
    ...lines.map((line) => line.replace(/^return /, 'const result = ')),
    'console.log(result.values)',
  ].join('\n')
}

function imported(needs) {
  const line = `import { ${needs.join(', ')} } from 'restmass'`
  return line.length <= 90 ? line : `import {\n${needs.map((name) => `  ${name},\n`).join('')}} from 'restmass'`
}

function field(name, input, changed) {
  if (input.file) return fileField(name, input, changed)
  return input.choices ? choiceField(name, input, changed) : numberField(name, input, changed)
}

function numberField(name, { label, unit, value, times = 1, from, to, scale }, changed) {
  const logarithmic = scale === 'log'
  const place = logarithmic
    ? (x) => (1000 * Math.log(x / from)) / Math.log(to / from)
    : (x) => (1000 * (x - from)) / (to - from)
  const at = logarithmic ? (p) => from * (to / from) ** (p / 1000) : (p) => from + ((to - from) * p) / 1000
  const number = element('input', { type: 'number', step: 'any', id: name, name, value })
  const slider = element('input', { type: 'range', min: 0, max: 1000, step: 1, ariaLabel: `${label}, slider` })
  const follow = () => {
    slider.value = place(number.valueAsNumber)
    slider.ariaValueText = `${number.value} ${unit ?? ''}`
  }
  follow()
  slider.addEventListener('input', () => {
    number.value = Number(at(slider.valueAsNumber).toPrecision(3))
    slider.ariaValueText = `${number.value} ${unit ?? ''}`
    changed()
  })
  number.addEventListener('input', () => {
    follow()
    changed()
  })
  const text = unit ? `${label} [${unit}]` : label
  return {
    element: element(
      'div',
      { className: 'input' },
      element('label', { htmlFor: name, textContent: text }),
      number,
      slider,
    ),
    // A product like 3 · 0.001 would show its rounding in the program.
    read: () => Number((number.valueAsNumber * times).toPrecision(15)),
    write: (text) => {
      number.value = text
      follow()
    },
    state: () => [number.value],
  }
}

function choiceField(name, { label, value, choices }, changed) {
  const select = element(
    'select',
    { id: name, name },
    ...choices.map((text) => element('option', { textContent: text })),
  )
  select.value = value
  select.addEventListener('input', changed)
  return {
    element: element('div', { className: 'input' }, element('label', { htmlFor: name, textContent: label }), select),
    read: () => select.value,
    write: (text) => {
      if (choices.includes(text)) select.value = text
    },
    state: () => [select.value],
  }
}

/** A text from a file that is chosen, dropped on the field or pasted into it; it is not part of the address. */
function fileField(name, { label, value }, changed) {
  let text = value
  const chooser = element('input', { type: 'file', id: name, name, accept: '.csv,.txt,text/csv' })
  const note = element('p', {
    className: 'note',
    textContent: 'An invented record until a file is chosen, dropped here or pasted.',
  })
  const drop = element(
    'div',
    { className: 'input drop' },
    element('label', { htmlFor: name, textContent: label }),
    chooser,
    note,
  )
  const take = (given, from) => {
    text = given
    note.textContent = from
    changed()
  }
  const open = async (file) => file && take(await file.text(), file.name)
  chooser.addEventListener('change', () => open(chooser.files[0]))
  addEventListener('dragover', (event) => event.preventDefault())
  addEventListener('drop', (event) => {
    event.preventDefault()
    open(event.dataTransfer.files[0])
  })
  addEventListener('paste', (event) => {
    const pasted = event.clipboardData.getData('text')
    if (pasted.includes('\n')) take(pasted, 'pasted')
  })
  return { element: drop, read: () => text, write: () => {}, state: () => [] }
}

function row([what, value, unit]) {
  const shown = typeof value === 'number' ? number(value) : (value ?? 'none')
  const cell = element('td', { textContent: shown })
  cell.dataset.value = value
  const head = element('th', { scope: 'row', textContent: what })
  return element('tr', {}, head, cell, element('td', { textContent: unit ?? '' }))
}

function number(value) {
  if (!Number.isFinite(value)) return value > 0 ? '∞' : '−∞'
  return `${Number(value.toPrecision(4))}`.replace('-', '−')
}

/** Draws figures; one with the same layers as before only gets new data, which is many times faster. */
async function show(section, specifications) {
  const count = specifications.length
  while (section.children.length > count) section.lastChild.remove()
  while (section.children.length < count) section.append(element('figure', {}, element('figcaption'), element('div')))
  for (const [k, specification] of specifications.entries()) await drawFigure(section.children[k], specification)
}

async function drawFigure(figure, given) {
  const [caption, area] = figure.children
  const { title, ...rest } = given
  caption.replaceChildren(element('strong', { textContent: title.text }), title.subtitle ? ` (${title.subtitle})` : '')
  const data = []
  const specification = withoutData(fitted(rest, figure.clientWidth), data)
  const layout = JSON.stringify(specification)
  if (figure.layout !== layout) {
    figure.view?.finalize()
    const { spec } = vegaLite.compile(specification)
    figure.view = new vega.View(vega.parse(spec), { renderer: 'svg' }).initialize(area)
    figure.layout = layout
  }
  data.forEach((values, k) => {
    figure.view.data(`layer${k}`, values)
  })
  await figure.view.runAsync()
}

/** The figure no wider than the page, axes included. */
function fitted(specification, width) {
  const room = Math.max(150, width - 110)
  const narrower = (panel) => {
    if (!(panel.width > room)) return panel
    return { ...panel, width: room, height: panel.height === panel.width ? room : panel.height }
  }
  if (specification.vconcat) return { ...specification, vconcat: specification.vconcat.map(narrower) }
  return narrower(specification)
}

function withoutData(specification, data) {
  const bare = (panel) => ({
    ...panel,
    layer: panel.layer.map((layer) => ({ ...layer, data: { name: `layer${data.push(layer.data.values) - 1}` } })),
  })
  if (specification.vconcat) return { ...specification, vconcat: specification.vconcat.map(bare) }
  return bare(specification)
}

function element(tag, properties = {}, ...children) {
  const made = Object.assign(document.createElement(tag), properties)
  made.append(...children)
  return made
}

function pre(code) {
  return element('pre', { tabIndex: 0 }, code)
}
