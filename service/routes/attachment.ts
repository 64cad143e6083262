/**
 * Files that a browser keeps instead of showing them (RFC 6266).
 */

/** Value of `content-disposition`; what the header or a file system could not hold becomes an underscore. */
export function attachment(name: string): string {
  return `attachment; filename="${name.replaceAll(/[^\w.-]/g, "_")}"`;
}
