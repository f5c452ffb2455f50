export async function reportPage() {
  return ''
}
