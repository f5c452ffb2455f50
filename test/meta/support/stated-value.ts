import ts from 'typescript'

/** What a value differs in from a literal as written; null if it agrees.
 *
 * Numbers are compared after rounding to the digits shown: `8.34` accepts 8.335 to 8.345, `1.2e-5` accepts 1.15e-5 to
 * 1.25e-5. A written `0` means nothing but rounding. Everything else must be equal, entry by entry.
 */
export function disagreement(literal: string, value: unknown): string | null {
  const source = ts.createSourceFile('literal.ts', `(${literal})`, ts.ScriptTarget.ES2022, true)
  const problems = (source as unknown as { parseDiagnostics: unknown[] }).parseDiagnostics
  const statement = source.statements[0]
  if (problems.length > 0 || source.statements.length !== 1 || !statement || !ts.isExpressionStatement(statement)) {
    return `'${literal}' is not a literal`
  }
  return compare(unwrapped(statement.expression), value, 'value')
}

function unwrapped(node: ts.Expression): ts.Expression {
  return ts.isParenthesizedExpression(node) ? unwrapped(node.expression) : node
}

function compare(node: ts.Expression, value: unknown, at: string): string | null {
  if (ts.isArrayLiteralExpression(node)) return compareArray(node, value, at)
  if (ts.isObjectLiteralExpression(node)) return compareObject(node, value, at)
  if (numberText(node) !== null) return compareNumber(numberText(node) as string, value, at)
  const expected = simpleLiteral(node)
  if (expected === notLiteral) return `'${node.getText()}' is not a literal`
  return Object.is(value, expected) ? null : `${at} is ${String(value)}, stated is ${node.getText()}`
}

const notLiteral = Symbol('not a literal')

function simpleLiteral(node: ts.Expression): unknown {
  if (ts.isStringLiteralLike(node)) return node.text
  if (node.kind === ts.SyntaxKind.TrueKeyword) return true
  if (node.kind === ts.SyntaxKind.FalseKeyword) return false
  if (node.kind === ts.SyntaxKind.NullKeyword) return null
  const text = node.getText()
  if (text === 'undefined') return undefined
  if (text === 'Infinity' || text === '-Infinity') return Number(text)
  return notLiteral
}

function numberText(node: ts.Expression): string | null {
  if (ts.isNumericLiteral(node)) return node.getText().replaceAll('_', '')
  const minus = ts.isPrefixUnaryExpression(node) && node.operator === ts.SyntaxKind.MinusToken
  return minus && ts.isNumericLiteral(node.operand) ? `-${numberText(node.operand)}` : null
}

function compareNumber(text: string, value: unknown, at: string): string | null {
  const [digits = '', exponent = '0'] = text.toLowerCase().split('e')
  const decimals = digits.split('.')[1]?.length ?? 0
  const halfDigit = 0.5 * 10 ** (Number(exponent) - decimals)
  const stated = Number(text)
  // Half a digit, and a hair for values that lie on the edge; a zero without digits is only rounding.
  const allowed = /^-?0$/.test(text) ? 1e-12 : halfDigit + 1e-12 * Math.abs(stated)
  const agrees = typeof value === 'number' && Math.abs(value - stated) <= allowed
  return agrees ? null : `${at} is ${String(value)}, stated is ${text}`
}

function compareArray(node: ts.ArrayLiteralExpression, value: unknown, at: string): string | null {
  const list = ArrayBuffer.isView(value) ? Array.from(value as Float64Array) : value
  if (!Array.isArray(list)) return `${at} is ${String(value)}, stated is a list`
  if (list.length !== node.elements.length)
    return `${at} has ${list.length} entries, stated are ${node.elements.length}`
  for (const [i, element] of node.elements.entries()) {
    const problem = compare(unwrapped(element), list[i], `${at}[${i}]`)
    if (problem !== null) return problem
  }
  return null
}

function compareObject(node: ts.ObjectLiteralExpression, value: unknown, at: string): string | null {
  if (typeof value !== 'object' || value === null) return `${at} is ${String(value)}, stated is a record`
  const record = value as Record<string, unknown>
  const keys: string[] = []
  for (const property of node.properties) {
    if (!ts.isPropertyAssignment(property) || ts.isComputedPropertyName(property.name)) return `${at} is not a literal`
    const key = property.name.text
    keys.push(key)
    const problem = compare(unwrapped(property.initializer), record[key], `${at}.${key}`)
    if (problem !== null) return problem
  }
  const extra = Object.keys(record).filter((key) => !keys.includes(key))
  return extra.length === 0 ? null : `${at} also has ${extra.join(', ')}`
}
