package job

import (
	"strings"
	"testing"
)

// Each limit catches what it is for; common practice, no source.
func TestPlausible(t *testing.T) {
	const meter = "[[instrument]]\nid = \"high\"\nmeasures = \"pressure\"\nrange = \"0 to 800 psig\"\n"
	for _, c := range []struct{ name, tables, want string }{
		{"air in the wrong scale", "[startup]\nreturn_air = \"75.2 °C\"", "startup.return_air: 75.2 °C; expected a temperature from 5 °C to 50 °C"},
		{"air in the other wrong scale", "[startup]\nreturn_air = \"24 °F\"", "startup.return_air: 24 °F; expected a temperature from 5 °C to 50 °C"},
		{"supply air", "[startup]\nsupply_air = \"55.9 °C\"", "startup.supply_air: 55.9 °C; expected"},
		{"liquid line", "[startup]\nliquid_temperature = \"90.5 °C\"", "startup.liquid_temperature: 90.5 °C; expected"},
		{"suction line", "[startup]\nsuction_temperature = \"51 °C\"", "startup.suction_temperature: 51 °C; expected"},
		{"pipe of a test", "[pressure_test]\nstart_temperature = \"61 °C\"", "pressure_test.start_temperature: 61 °C; expected"},
		{"gauge for absolute", "[startup]\npressure_gauge = \"high\"\nsuction_pressure = \"118 psia\"\n" + meter, "startup.suction_pressure: 118 psia, read from high, whose range is 0 to 800 psig; expected both counted from the air"},
		{"gauge for absolute in a test", "[pressure_test]\ninstrument = \"high\"\nstart_pressure = \"3500 kPa\"\n" + meter, "pressure_test.start_pressure: 3500 kPa, read from high, whose range is 0 to 800 psig"},
		{"test below the air", "[pressure_test]\nstart_pressure = \"10 psia\"", "pressure_test.start_pressure: 10 psia; expected a pressure above that of the air"},
		{"barometer counted from the air", "[pressure_test]\nend_barometer = \"0.1 barg\"", "pressure_test.end_barometer: 0.1 barg; expected the absolute air pressure"},
		{"sea-level pressure in a test", "[pressure_test]\nstart_barometer = \"1013 hPa\"", "pressure_test.start_barometer: 1013 hPa, 21 % from the pressure at 1609 m"},
		{"change in another unit", "[pressure_test]\nmax_change = \"2 K\"", "pressure_test.max_change: 2 K; expected a pressure above zero"},
	} {
		_, faults := decode(strings.Replace(good, "[charge]", c.tables+"\n[charge]", 1))
		if len(faults) != 1 || !strings.Contains(faults[0].Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, faults, c.want)
		}
	}
	right := "[startup]\npressure_gauge = \"high\"\nsuction_pressure = \"118 psig\"\nreturn_air = \"75.2 °F\"\nsupply_air = \"55.9 °F\"\nliquid_temperature = \"90.5 °F\"\n" +
		"[pressure_test]\ninstrument = \"high\"\nstart_pressure = \"500 psig\"\nstart_temperature = \"61 °F\"\nstart_barometer = \"83 kPa\"\nmax_change = \"70 kPa\"\n" + meter
	if _, faults := decode(strings.Replace(good, "[charge]", right+"[charge]", 1)); len(faults) != 0 {
		t.Errorf("what is right is refused: %v", faults)
	}
}
