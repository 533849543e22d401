/** Runs `work` over `items`, at most `atOnce` at a time; results keep the order of the items. */
export async function inParallel<T, R>(
  items: readonly T[],
  atOnce: number,
  work: (item: T, at: number) => Promise<R>,
): Promise<R[]> {
  const results = new Array<R>(items.length);
  let next = 0;
  const lane = async (): Promise<void> => {
    for (let at = next++; at < items.length; at = next++) {
      results[at] = await work(items[at] as T, at);
    }
  };
  await Promise.all(Array.from({ length: Math.min(atOnce, items.length) }, lane));
  return results;
}
