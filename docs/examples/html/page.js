// The frame of the report: plain, printable, readable on a narrow screen.

/** A whole HTML page around sections whose content is HTML; `from` is the command that wrote it. */
export function page({ title, version, from, sections }) {
  const body = sections
    .map(({ heading, content }) => `<section>\n<h2>${heading}</h2>\n${content}\n</section>`)
    .join('\n')
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(title)}</title>
<style>${style}</style>
</head>
<body>
<header>
<h1>${escaped(title)}</h1>
<p>restmass ${version}, from <code>${escaped(from)}</code>. The library computes; it approves nothing.</p>
</header>
<main>
${body}
</main>
</body>
</html>
`
}

/** A text as it has to stand in HTML. */
export function escaped(text) {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;')
}

const style = `
:root { color-scheme: light; --ink: #1c2024; --soft: #5b6570; --line: #d4d9de; }
body { margin: 0 auto; padding: 1.5rem 1rem 4rem; max-width: 66rem; color: var(--ink); background: #fff;
  font: 1rem/1.5 system-ui, sans-serif; }
h1 { font-size: 1.5rem; line-height: 1.25; margin: 0 0 .25rem; }
h2 { font-size: 1.15rem; margin: 2.25rem 0 .5rem; padding-bottom: .2rem; border-bottom: 1px solid var(--line); }
header p, .note, figcaption { color: var(--soft); font-size: .9rem; margin: .4rem 0; }
ul { margin: .25rem 0; padding-left: 1.2rem; }
.wide { overflow-x: auto; }
table { border-collapse: collapse; font-size: .86rem; font-variant-numeric: tabular-nums; }
th, td { padding: .25rem .45rem; text-align: right; white-space: nowrap; border-bottom: 1px solid var(--line); }
th:first-child, td:first-child { text-align: left; padding-left: 0; }
thead th { vertical-align: bottom; font-weight: 600; color: var(--soft); }
tbody th { font-weight: 600; }
.pass { color: #176b2c; font-weight: 600; }
.fail { color: #a32019; font-weight: 600; }
figure { margin: .75rem 0; }
figure svg { display: block; min-width: 34rem; max-width: 100%; height: auto; }
pre { overflow-x: auto; padding: .6rem; background: #f4f6f7; font-size: .8rem; white-space: pre-wrap; }
dt { font-weight: 600; margin-top: .75rem; }
dd { margin: 0; font-size: .95rem; }
@media print { body { max-width: none; padding: 0; font-size: 10pt; } figure, tr, dd { break-inside: avoid; }
  h2, dt { break-after: avoid; }
  table { font-size: 8pt; } figure svg { min-width: 0; } }
`
