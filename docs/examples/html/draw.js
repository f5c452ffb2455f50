// From a Vega-Lite specification to inline SVG, without a browser.
import { parse, View } from 'vega'
import { compile } from 'vega-lite'

/** An SVG element whose identifiers begin with `prefix`, so that several can share a page. */
export async function draw(specification, prefix) {
  const view = new View(parse(compile(specification).spec), { renderer: 'none' })
  const svg = await view.toSVG()
  view.finalize()
  return svg
    .replaceAll(/\bid="([^"]+)"/g, `id="${prefix}-$1"`)
    .replaceAll(/url\(#([^)]+)\)/g, `url(#${prefix}-$1)`)
    .replaceAll(/(xlink:)?href="#([^"]+)"/g, `$1href="#${prefix}-$2"`)
}
