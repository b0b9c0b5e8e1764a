export * from 'idb';
