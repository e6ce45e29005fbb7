// Keeps photographs that were taken without a connection in the browser's own store, in the order in which they were.
"use strict";
window.keptPictures = (() => {
  const NAME = "gaugebox-pictures", WAITING = "waiting";

  const opened = () => new Promise((resolve, reject) => {
    const asked = indexedDB.open(NAME, 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore(WAITING, { keyPath: "at", autoIncrement: true });
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
  });

  // done once it is on the disk: what could not be kept there is told to whoever took it
  async function deal(mode, work) {
    const base = await opened();
    try {
      return await new Promise((resolve, reject) => {
        const deed = base.transaction(WAITING, mode), asked = work(deed.objectStore(WAITING));
        deed.oncomplete = () => resolve(asked.result);
        deed.onabort = () => reject(deed.error);
      });
    } finally {
      base.close();
    }
  }

  return {
    all: () => deal("readonly", (store) => store.getAll()),
    put: (picture) => deal("readwrite", (store) => store.put(picture)),
    drop: (at) => deal("readwrite", (store) => store.delete(at)),
  };
})();
