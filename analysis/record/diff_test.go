package record

import "testing"

func TestDiff(t *testing.T) {
	was := []byte(`{"format":1,"software":{"version":"1"},"hold":{"decision":"pass","rise":{"value":10,"unit":"Pa","low":9,"high":11}}}`)
	for _, c := range []struct {
		now      string
		count    int
		material bool
	}{
		{`{"format":1,"software":{"version":"2"},"hold":{"decision":"pass","rise":{"value":10.000001,"unit":"Pa","low":9,"high":11}}}`, 0, false},
		{`{"format":1,"hold":{"decision":"pass","rise":{"value":10.1,"unit":"Pa","low":9,"high":11}}}`, 1, false},
		{`{"format":1,"hold":{"decision":"pass","rise":{"value":11.5,"unit":"Pa","low":9,"high":11}}}`, 1, true},
		{`{"format":1,"hold":{"decision":"fail","rise":{"value":10,"unit":"Pa","low":9,"high":11}}}`, 1, true},
		{`{"format":1}`, 1, true},
		{`{"format":1,"hold":{"decision":"pass","cause":"none","rise":{"value":10,"unit":"Pa","low":9,"high":11}}}`, 1, false}, // said besides
		{`{"format":1,"hold":{"decision":"pass","rise":{"value":10,"unit":"Pa","low":9,"high":11}},"pressure_test":{"decision":"fail"}}`, 1, true},
		{`{"format":1,"hold":{"rise":{"value":10,"unit":"Pa","low":9,"high":11}}}`, 1, true}, // taken back
	} {
		got, err := Diff(was, []byte(c.now), 1e-6)
		if err != nil {
			t.Fatal(err)
		}
		if len(got) != c.count || len(got) > 0 && got[0].Material != c.material {
			t.Errorf("%s: got %+v, want %d differences, material %v", c.now, got, c.count, c.material)
		}
	}
}

func TestParse(t *testing.T) {
	r := &Record{Format: 1, Hold: &Hold{Rise: Between(1.5, 1, 2, "Pa")}}
	text, err := r.JSON()
	if err != nil {
		t.Fatal(err)
	}
	back, err := Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	again, _ := back.JSON()
	if string(again) != string(text) {
		t.Errorf("got %s, want %s", again, text)
	}
	if _, err := Parse([]byte(`{"format":2}`)); err == nil {
		t.Error("a newer format was read")
	}
}
