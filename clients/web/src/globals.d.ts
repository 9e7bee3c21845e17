declare const __VERSION__: string;
declare module '*.css';
