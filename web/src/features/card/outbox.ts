/** What an installer reports. Made here with an id of its own, so that sending it twice is once. */
export interface Report {
  id: string;
  job: string;
  panel: string;
  word: "laid" | "note" | "recut" | "photo";
  at: string;
  text?: string;
  source?: string;
  lot?: string;
  photo?: Blob;
  /** What the server answered when it refused it; it is not sent again by itself. */
  refused?: string;
}

/** Reports that the server has not answered yet, in the order in which they were made. */
export interface Outbox {
  all: () => Promise<Report[]>;
  put: (report: Report) => Promise<void>;
  remove: (id: string) => Promise<void>;
}

const databaseName = "filmwright";
const store = "outbox";

/** Kept by the browser: it outlives the page, the network and a flat battery. */
export function openOutbox(factory: IDBFactory = indexedDB): Outbox {
  const opened = new Promise<IDBDatabase>((resolve, reject) => {
    const request = factory.open(databaseName, 1);
    request.onupgradeneeded = () =>
      request.result
        .createObjectStore(store, { keyPath: "order", autoIncrement: true })
        .createIndex("id", "id", { unique: true });
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error ?? new Error("no storage"));
  });
  const work = async <T>(
    mode: IDBTransactionMode,
    ask: (table: IDBObjectStore) => IDBRequest<T>,
  ): Promise<T> => {
    const database = await opened;
    return new Promise<T>((resolve, reject) => {
      const transaction = database.transaction(store, mode);
      const request = ask(transaction.objectStore(store));
      transaction.oncomplete = () => resolve(request.result);
      transaction.onabort = () => reject(transaction.error ?? new Error("no storage"));
    });
  };
  const keyOf = (id: string) => work("readonly", (table) => table.index("id").getKey(id));
  return {
    all: () => work("readonly", (table) => table.getAll() as IDBRequest<Report[]>),
    put: async (report) => {
      const order = await keyOf(report.id);
      await work("readwrite", (table) =>
        table.put(order === undefined ? report : { ...report, order }),
      );
    },
    remove: async (id) => {
      const order = await keyOf(id);
      if (order !== undefined) await work("readwrite", (table) => table.delete(order));
    },
  };
}

export type Sent = "taken" | "unreachable" | { refused: string };

/** Sends what is in the outbox, oldest first, and takes out what the server has taken down. Stops
 * at the first that does not reach it; returns whether all was answered. */
export async function sendAll(
  outbox: Outbox,
  send: (report: Report) => Promise<Sent>,
): Promise<boolean> {
  for (const report of await outbox.all()) {
    if (report.refused !== undefined) continue;
    const sent = await send(report);
    if (sent === "unreachable") return false;
    if (sent === "taken") await outbox.remove(report.id);
    else await outbox.put({ ...report, refused: sent.refused });
  }
  return true;
}
