export * from 'pyodide';
