// Package seal turns a drawn document into a signed archival record, and reads
// such a record back. Bytes go in and bytes come out: no files, no clock, and no
// network but for a Stamper that the caller hands in.
//
// # Making
//
// Archive takes what fpdf wrote and copies its objects, numbers unchanged, into a
// PDF/A-3b file (ISO 19005-3, on ISO 32000-1): XMP metadata, an sRGB output
// intent with a profile made here, an ID from the digest of the content, tags,
// attachments with their relationship to the document, and two signature fields:
// the record's own, invisible, and an empty one for the customer where asked for.
// The signature dictionary is the first object in the file and has a fixed size,
// so that it can be found without trusting anything else. The result depends on
// the Document alone.
//
// Sign fills three blanks in that dictionary: time, and signature. Nothing else
// changes and nothing moves. The signature is PAdES baseline B-B (ETSI EN
// 319 142-1): detached CMS (RFC 5652) with the attributes content-type,
// message-digest and signing-certificate-v2 (RFC 5035), over the whole file but
// for itself; with a Stamper, B-T: an RFC 3161 time-stamp token over the signature.
// It is an approval signature, not a certifying one: a viewer that announces a
// "certified document" would say more than the record does. P-256 signatures
// hold a random number; they are the only bytes that two runs do not share.
//
// # Reading
//
// Open checks, in this order: the dictionary is where Archive puts it; the byte
// range covers everything to the end of the signed revision; the signature
// holds, names its certificate, and is spelled as it was made, bit by bit; the
// time-stamp holds, where there is one; the form has the fields that it should
// have. Only then are attachments inflated, within limits. Sealed.Unsigned is the
// file with the blanks blank again, byte for byte what Archive returned: make the
// document again from the attachments, and compare.
//
// Bytes after the signed revision are refused, but for one incremental update
// that holds a signature in the customer's field over the whole file, made by
// whatever software, and changes nothing but what such software must change
// (see changes). In that signature the encoding is the other software's, so bits of
// it that say nothing (a version number, spare certificates) can be changed
// without a complaint; in the record's own they cannot. An update with a
// cross-reference stream is refused too: software follows the form of the table
// that it finds, and ours is plain.
//
// # What the signature means
//
// That the file is as it was when the holder of the key signed it. Not that the
// readings came from this equipment, nor that instruments' clocks were right, nor
// when it was signed, unless there is a time-stamp; nor who the holder is, where
// the certificate is self-made. Whom to trust is the caller's decision, by VouchedBy
// or on Signature.Certificate and its Fingerprint. Periods are checked (a record's time
// of signing lies in its certificate's, a time-stamp's in its own), revocation is not.
package seal
