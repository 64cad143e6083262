/**
 * Stands at the edge for the packages that read the certificates of authenticators: `wrangler.toml` names them. A
 * passkey that brings a certificate is refused anyway (`passkeys.ts`), so they would never be run. What remains
 * of the library reads signatures.
 */
function CertificateReader(): never {
  throw new Error("no certificates are read here");
}

/** Names a kind of signature. The list of them is made when the library is loaded, and nobody reads it here. */
export function AlgorithmIdentifier(): void {
  // An object as `new` makes it is enough.
}

export {
  CertificateReader as AuthorityKeyIdentifierExtension,
  CertificateReader as BasicConstraints,
  CertificateReader as Certificate,
  CertificateReader as CRLDistributionPointsExtension,
  CertificateReader as ExtendedKeyUsage,
  CertificateReader as KeyDescription,
  CertificateReader as RSAPublicKey,
  CertificateReader as SubjectAlternativeName,
  CertificateReader as SubjectKeyIdentifierExtension,
  CertificateReader as X509Certificate,
  CertificateReader as X509ChainBuilder,
  CertificateReader as X509Crl,
};

/** No certificate is of such a kind. */
const NONE = "";
export {
  NONE as id_ce_basicConstraints,
  NONE as id_ce_extKeyUsage,
  NONE as id_ce_keyDescription,
  NONE as id_ce_subjectAltName,
  NONE as id_ml_dsa_44,
  NONE as id_ml_dsa_65,
  NONE as id_ml_dsa_87,
  NONE as id_rsaEncryption,
  NONE as id_sha1WithRSAEncryption,
  NONE as id_sha256WithRSAEncryption,
  NONE as id_sha384WithRSAEncryption,
  NONE as id_sha512WithRSAEncryption,
};
