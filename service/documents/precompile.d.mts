export const HELPER_NAMES: readonly string[];
export function precompileTemplates(
  target?: string,
): Promise<{ templates: string[]; partials: string[] }>;
