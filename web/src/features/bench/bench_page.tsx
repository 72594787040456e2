export function BenchPage() {
  return null;
}
