package report

// runningHead stands on every page but the first.
func (b *builder) runningHead(s *sheet, f *flow) {
	st := style{8, 10.5, false}
	s.artifact(func() {
		right := b.w("running", "job", b.rec.Job.Number)
		rw := width(right, st)
		name := wrap(clean(b.rec.Job.Company.Name), st, measureWidth-rw-10)
		s.lines(f.left, 15*mm-8, measureWidth-rw-10, name[:min(1, len(name))], st, 'l')
		s.lines(f.left, 15*mm-8, measureWidth, wrap(right, st, measureWidth), st, 'r')
	})
}

// foot stands on every page, with the beginning of the digest.
func (b *builder) foot(s *sheet, f *flow) {
	y := s.h - 18*mm
	s.rule(f.left, y, measureWidth, 0.5)
	one := func(x, y float64, text string, align byte) {
		ls := wrap(text, foot, measureWidth*0.45)
		if len(ls) > 0 {
			s.lines(x, y, measureWidth, ls[:1], foot, align)
		}
	}
	s.artifact(func() {
		one(f.left, y+2.5, b.w("foot.job", "job", b.rec.Job.Number), 'l')
		one(f.left, y+2.5, bold(b.w("foot.page", "page", b.p.count(s.page+1), "pages", b.p.count(f.page+1))), 'c')
		if d := b.opt.Digest; len(d) >= 16 {
			one(f.left, y+2.5, b.w("foot.digest", "digest", bold(firstFours(d))), 'r')
			one(f.left, y+12, b.w("foot.full", "page", b.p.count(b.sigs+1)), 'r')
		}
		if b.rec.Job.Sample {
			one(f.left, y+12, b.w("foot.sample"), 'l')
		}
	})
}

// firstFours is the beginning of a digest in groups of four, as in the foot of the
// record that has it.
func firstFours(digest string) string { return fours(digest[:min(16, len(digest))]) }

// fours sets a digest in groups of four.
func fours(s string) string {
	var out []byte
	for i := range len(s) {
		if i > 0 && i%4 == 0 {
			out = append(out, nb...)
		}
		out = append(out, s[i])
	}
	return string(out)
}

func (b *builder) title() string { return b.w("title", "job", b.rec.Job.Number) }
