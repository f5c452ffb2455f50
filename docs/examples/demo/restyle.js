// A figure is plain data: what this report wants otherwise is changed here, with no drawing code.

/** Passive candidates are dashed, active ones solid. */
const styles = {
  floor: { colour: '#555555', dash: [] },
  'rubber mounts': { colour: '#8b5a2b', dash: [7, 3] },
  'steel springs': { colour: '#e69f00', dash: [7, 3] },
  'air springs': { colour: '#56b4e9', dash: [7, 3] },
  'damped air springs': { colour: '#0072b2', dash: [] },
  'parallel active': { colour: '#d55e00', dash: [] },
  'series active': { colour: '#009e73', dash: [] },
  stack: { colour: '#aa4499', dash: [] },
}

/** The figure with the same colour for a candidate in all figures, names in columns, and axes as given. */
export function restyled(specification, { domains = {}, columns }) {
  return { ...specification, layer: specification.layer.map((layer) => restyledLayer(layer, domains, columns)) }
}

function restyledLayer(layer, domains, columns) {
  const { x, y, color, strokeDash } = layer.encoding
  const encoding = { ...layer.encoding, ...(x && axes(x, domains.x, 'x')), ...(y && axes(y, domains.y, 'y')) }
  if (color !== undefined) {
    const legend = { ...color.legend, columns, direction: 'horizontal', symbolSize: 500, columnPadding: 24 }
    const each = color.scale.domain.map(styleOf)
    encoding.color = { ...color, legend, scale: { ...color.scale, range: each.map(({ colour }) => colour) } }
    encoding.strokeDash = { ...strokeDash, legend, scale: { ...strokeDash.scale, range: each.map(({ dash }) => dash) } }
  }
  return { ...layer, mark: { ...layer.mark, clip: layer.mark.type === 'line' }, encoding }
}

function axes(channel, domain, name) {
  return domain === undefined ? {} : { [name]: { ...channel, scale: { ...channel.scale, domain, nice: false } } }
}

/** The style of `candidate` or of `candidate, loop name`. */
function styleOf(name) {
  const [candidate, loop = ''] = name.split(', loop ')
  // The loops of a stack are much like those of its storeys alone and would hide them.
  if (candidate === 'stack' && loop !== '')
    return { ...styles.stack, dash: loop.startsWith('lower_') ? [1, 4] : [6, 6] }
  return styles[candidate]
}
