package report

// customer says for whom and on what day the job was done.
func (b *builder) customer() string {
	missing, day := b.w("missing.given"), b.rec.Job.Date
	if day != "" {
		day = b.p.day(day)
	}
	who := join(", ", clean(b.rec.Job.Customer.Name), clean(b.rec.Job.Customer.Contact))
	return b.w("signature.customer", "customer", or(who, missing), "date", or(day, missing))
}

// signature is what the signature means, what is attached, and the whole digest.
func (b *builder) signature() []section {
	st := b.sc.body
	if b.t.Audience == "warranty" {
		st = style{7, 9.5, false}
		if b.close > 2 {
			st.lead = 8.8
		}
	}
	parts := []string{b.w("fixed.signature")}
	if b.t.Audience != "warranty" { // which has one page
		parts[0] += " " + b.w("signature.check", "name", clean(b.rec.Software.Name))
	}
	made := b.w("signature.software", "name", clean(b.rec.Software.Name), "version", clean(b.rec.Software.Version))
	if len(b.opt.Attachments) > 0 {
		names := make([]string, len(b.opt.Attachments))
		for i, n := range b.opt.Attachments {
			names[i] = clean(n)
		}
		made = b.w("signature.attached", "files", join(", ", names...)) + " " + made
	}
	parts = append(parts, made)
	if b.t.Audience == "inspector" {
		parts = append(parts, b.customer()+" "+b.w("fixed.scope"))
	}
	if b.t.Audience != "homeowner" { // who reads it among the cautions
		parts = append(parts, b.w("fixed.deference"))
	}
	if b.rec.Job.Revision > 1 {
		parts = append(parts, b.w("signature.revision", "number", b.p.count(b.rec.Job.Revision), "amends", clean(b.rec.Job.Amends), "reason", clean(or(b.rec.Job.Reason, b.w("missing.given")))))
	}
	if d := b.opt.Digest; d != "" {
		parts = append(parts, bold(b.w("signature.digest"))+" "+eights(d))
	}
	if b.t.Audience == "warranty" {
		return []section{{wide: true, together: true, blocks: []block{para{text: join(" ", parts...), st: st}}}}
	}
	sec := b.titled("signature")
	sec.together = true
	for _, p := range parts {
		sec.blocks = append(sec.blocks, para{text: p, st: st})
	}
	return []section{sec}
}

// eights sets a digest in groups of eight that may part at a line's end.
func eights(s string) string {
	out := ""
	for i := 0; i < len(s); i += 8 {
		if i > 0 {
			out += " "
		}
		out += s[i:min(i+8, len(s))]
	}
	return out
}
