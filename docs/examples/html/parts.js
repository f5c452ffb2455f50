// Parts of a report as HTML.
import { escaped } from './page.js'

/** A drawing over its caption, which may scroll on a narrow screen. */
export function figure(svg, caption) {
  return `<figure><div class="wide">${svg}</div><figcaption>${escaped(caption)}</figcaption></figure>`
}

/** A table of cells that are HTML, the first of each row its head; it copies into a spreadsheet as it stands. */
export function table(head, body) {
  const rowOf = (cells, tag) =>
    `<tr>${cells.map((cell, k) => (k === 0 ? `<th scope="${tag}">${cell}</th>` : tag === 'col' ? `<th scope="col">${cell}</th>` : `<td>${cell}</td>`)).join('')}</tr>`
  const rows = body.map((cells) => rowOf(cells, 'row')).join('\n')
  return `<div class="wide"><table><thead>${rowOf(head, 'col')}</thead>\n<tbody>${rows}</tbody></table></div>`
}

/** A list of texts. */
export function list(items) {
  return `<ul>${items.map((item) => `<li>${escaped(item)}</li>`).join('')}</ul>`
}

/** A note. */
export function paragraph(text) {
  return `<p class="note">${escaped(text)}</p>`
}
