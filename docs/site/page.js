// The frame that every page of the site but the reference stands in.

/** A whole page; `depth` is how many folders it stands below the root of the site. */
export function page({ title, depth = 0, body, styles = [], scripts = [] }) {
  const up = '../'.repeat(depth)
  const links = ['site.css', ...styles].map((path) => `<link rel="stylesheet" href="${up}${path}">`)
  const loaded = scripts.map((path) => `<script src="${path}"></script>`)
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(title)}</title>
${links.join('\n')}
</head>
<body>
<nav aria-label="Site">
<a href="${up}index.html">restmass</a> <a href="${up}guides/index.html">Guides</a>
<a href="${up}calculators/index.html">Calculators</a> <a href="${up}reference/index.html">Reference</a>
</nav>
<main>
${body}
</main>
${loaded.join('\n')}
</body>
</html>
`
}

/** A list of links, each with the line it stands for. */
export function linkList(entries) {
  const items = entries.map(
    ({ href, title, note = '' }) => `<li><a href="${href}">${escaped(title)}</a> ${escaped(note)}</li>`,
  )
  return `<ul class="links">\n${items.join('\n')}\n</ul>`
}

/** A text as it has to stand in HTML. */
export function escaped(text) {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;')
}
