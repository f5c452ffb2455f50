/** Groups of nodes that reach each other, each group after every group it depends on.
 *
 * @param dependsOn - for each node the nodes it depends on
 * @source R. E. Tarjan, Depth-first search and linear graph algorithms, SIAM J. Computing 1, 1972; without recursion
 */
export function strongComponents(dependsOn: readonly (readonly number[])[]): number[][] {
  const count = dependsOn.length
  const order = new Int32Array(count).fill(-1)
  const lowest = new Int32Array(count)
  const open = new Uint8Array(count)
  const next = new Int32Array(count)
  const stack: number[] = []
  const path: number[] = []
  const components: number[][] = []
  let visited = 0

  const enter = (node: number): void => {
    order[node] = visited
    lowest[node] = visited++
    open[node] = 1
    stack.push(node)
    path.push(node)
  }
  const leave = (node: number): void => {
    path.pop()
    const parent = path[path.length - 1]
    if (parent !== undefined) lowest[parent] = Math.min(lowest[parent], lowest[node])
    if (lowest[node] !== order[node]) return
    const component = stack.splice(stack.lastIndexOf(node))
    for (const member of component) open[member] = 0
    components.push(component)
  }
  for (let root = 0; root < count; root++) {
    if (order[root] !== -1) continue
    enter(root)
    while (path.length > 0) {
      const node = path[path.length - 1]
      const edges = dependsOn[node]
      if (next[node] === edges.length) {
        leave(node)
        continue
      }
      const target = edges[next[node]++]
      if (order[target] === -1) enter(target)
      else if (open[target] === 1) lowest[node] = Math.min(lowest[node], order[target])
    }
  }
  return components
}
