package pdf

import (
	"errors"
	"fmt"
)

// indirect reads one indirect object, from its number to endobj.
func (p *parser) indirect() (ref Ref, o Object, err error) {
	if p.pos < 0 || p.pos >= len(p.data) {
		return ref, nil, errors.New("it lies outside the file")
	}
	if ref.Num, err = p.natural(); err != nil {
		return ref, nil, err
	}
	if ref.Gen, err = p.natural(); err != nil {
		return ref, nil, err
	}
	if err := p.keyword("obj"); err != nil {
		return ref, nil, err
	}
	if o, err = p.object(0); err != nil {
		return ref, nil, err
	}
	p.skip()
	if d, ok := o.(Dict); ok && p.accept("stream") {
		if o, err = p.stream(d); err != nil {
			return ref, nil, err
		}
	}
	return ref, o, p.keyword("endobj")
}

// stream reads a stream's bytes.
func (p *parser) stream(d Dict) (Object, error) {
	if p.all != nil {
		p.data = p.all
	}
	if !p.accept("\r\n") && !p.accept("\n") {
		return nil, fmt.Errorf("offset %d: no end of line after stream", p.pos)
	}
	length := d.Get("Length")
	if ref, ok := length.(Ref); ok && p.length != nil {
		length = p.length(ref)
	}
	n, ok := length.(int)
	if !ok || n < 0 || n > len(p.data)-p.pos {
		return nil, fmt.Errorf("offset %d: a stream without a proper length", p.pos)
	}
	raw := p.data[p.pos : p.pos+n]
	p.pos += n
	return &Stream{d, raw}, p.keyword("endstream")
}
