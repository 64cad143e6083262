export declare function declareClient(target?: string): void;
