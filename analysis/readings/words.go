package readings

import "strings"

// role is what a column is for.
type role uint8

const (
	roleNone role = iota
	roleTime
	roleDate
	roleElapsed
	rolePressure
	roleAmbient
	roleUnit
	roleValue  // "reading": a pressure where no column says more
	roleStatus // whether the reading is one
	roleZone   // how far the time of the row is from UTC
	roleUTC    // a word only
	roleHalf   // am or pm
	roleNot    // a word that takes its column out: a limit, a rate, a barometer
)

// words gives the role of a header's word in English, Spanish, German and
// French, folded by foldWord. A compound word ("Absolutdruck") is known by the
// stem that it contains.
var words = map[string]role{
	"time": roleTime, "timestamp": roleTime, "datetime": roleTime, "ts": roleTime, "epoch": roleTime, "unix": roleTime, "clock": roleTime, "hora": roleTime, "tiempo": roleTime,
	"zeit": roleTime, "uhrzeit": roleTime, "zeitpunkt": roleTime, "zeitstempel": roleTime, "heure": roleTime, "temps": roleTime,
	"horodatage": roleTime, "instant": roleTime, "momento": roleTime, "messzeit": roleTime,
	"date": roleDate, "day": roleDate, "fecha": roleDate, "dia": roleDate, "datum": roleDate, "tag": roleDate, "jour": roleDate,
	"elapsed": roleElapsed, "duration": roleElapsed, "runtime": roleElapsed, "transcurrido": roleElapsed, "duracion": roleElapsed,
	"verstrichen": roleElapsed, "verstrichene": roleElapsed, "vergangene": roleElapsed, "dauer": roleElapsed, "laufzeit": roleElapsed, "messdauer": roleElapsed,
	"abgelaufene": roleElapsed, "ecoule": roleElapsed, "ecoulee": roleElapsed, "duree": roleElapsed, "relative": roleElapsed, "relativa": roleElapsed, "seconds": roleElapsed,
	"minutes": roleElapsed, "segundos": roleElapsed, "minutos": roleElapsed, "sekunden": roleElapsed, "minuten": roleElapsed, "secondes": roleElapsed,
	"pressure": rolePressure, "press": rolePressure, "vacuum": rolePressure, "vac": rolePressure, "p": rolePressure, "presion": rolePressure,
	"vacio": rolePressure, "druck": rolePressure, "vakuum": rolePressure, "pression": rolePressure, "vide": rolePressure,
	"temperature": roleAmbient, "temp": roleAmbient, "temperatura": roleAmbient, "temperatur": roleAmbient, "ambient": roleAmbient,
	"ambiente": roleAmbient, "umgebung": roleAmbient, "ambiante": roleAmbient,
	"reading": roleValue, "value": roleValue, "gauge": roleValue, "sensor": roleValue, "channel": roleValue, "messwert": roleValue, "wert": roleValue,
	"kanal": roleValue, "lectura": roleValue, "valor": roleValue, "canal": roleValue, "medida": roleValue, "valeur": roleValue, "mesure": roleValue, "voie": roleValue,
	"unit": roleUnit, "units": roleUnit, "unidad": roleUnit, "unidades": roleUnit, "einheit": roleUnit, "unite": roleUnit, "unites": roleUnit,
	"status": roleStatus, "state": roleStatus, "flag": roleStatus, "quality": roleStatus, "estado": roleStatus, "zustand": roleStatus, "statut": roleStatus, "etat": roleStatus,
	"utc": roleUTC, "gmt": roleUTC, "tz": roleZone, "zone": roleZone, "timezone": roleZone, "zeitzone": roleZone, "offset": roleZone, "zona": roleZone, "fuseau": roleZone,
	"ampm":        roleHalf,
	"calibration": roleNot, "calibrated": roleNot, "cal": roleNot, "due": roleNot, "report": roleNot, "printed": roleNot, "exported": roleNot, "uploaded": roleNot,
	"upload": roleNot, "download": roleNot, "expiry": roleNot, "expires": roleNot, "kalibriert": roleNot, "calibracion": roleNot, "etalonnage": roleNot,
	"horaria": roleTime, "horaire": roleTime,
	"delta": roleNot, "change": roleNot, "difference": roleNot, "differenz": roleNot, "diferencia": roleNot, "max": roleNot, "avg": roleNot, "serial": roleNot,
	"setpoint": roleNot, "target": roleNot, "limit": roleNot, "alarm": roleNot, "rate": roleNot, "minimum": roleNot, "maximum": roleNot,
	"average": roleNot, "mean": roleNot, "barometer": roleNot, "barometric": roleNot, "atmospheric": roleNot, "sollwert": roleNot,
	"grenzwert": roleNot, "luftdruck": roleNot, "objetivo": roleNot, "limite": roleNot, "consigne": roleNot, "consigna": roleNot,
	"interval": roleNot, "intervalo": roleNot, "intervall": roleNot, "intervalle": roleNot, "saturation": roleNot, "dew": roleNot, "battery": roleNot, "remaining": roleNot,
	"mittelwert": roleNot, "promedio": roleNot, "moyenne": roleNot, "atmosferica": roleNot, "atmospherique": roleNot, "setting": roleNot,
}

// stems are looked for inside longer words.
var stems = []struct {
	stem string
	role role
}{
	{"luftdruck", roleNot}, {"kalibrier", roleNot}, {"zeitzone", roleZone}, {"grenz", roleNot}, {"temperatur", roleAmbient}, {"vakuum", rolePressure}, {"vacuum", rolePressure}, {"druck", rolePressure},
	{"pressure", rolePressure}, {"zeitstempel", roleTime}, {"timestamp", roleTime}, {"datum", roleDate}, {"dauer", roleElapsed}, {"zeit", roleTime},
}

// nearWords say that a temperature is the one around the circuit, or of its pipe.
var nearWords = map[string]bool{"ambient": true, "ambiente": true, "umgebung": true, "umgebungstemperatur": true, "ambiante": true,
	"room": true, "outdoor": true, "outside": true, "pipe": true, "line": true, "wall": true, "exterior": true, "aussen": true, "aussentemperatur": true,
	"exterieure": true, "tubo": true, "rohr": true, "rohrtemperatur": true, "tuyau": true}

// calendarWords head the columns of a date in pieces, beside the day's.
var calendarWords = map[string]bool{"year": true, "month": true, "jahr": true, "monat": true, "ano": true, "mes": true, "annee": true, "mois": true}

// dayWords can head a column of weekdays, or of days counted.
var dayWords = map[string]bool{"day": true, "tag": true, "dia": true, "jour": true}

// vacuumWords say that a pressure column is the vacuum gauge's.
var vacuumWords = map[string]bool{"vacuum": true, "vac": true, "vacio": true, "vakuum": true, "vide": true, "micron": true, "microns": true}

// absoluteWords settle a unit that lacks its reference.
var absoluteWords = map[string]bool{"absolute": true, "abs": true, "absolutdruck": true, "absolut": true, "absoluta": true, "absolue": true}

// months by the first letters of their names, folded, longest first where one
// begins another.
var months = map[string]int{
	"january": 1, "jan": 1, "enero": 1, "ene": 1, "januar": 1, "janner": 1, "janvier": 1, "janv": 1,
	"february": 2, "feb": 2, "febrero": 2, "februar": 2, "fevrier": 2, "fevr": 2, "fev": 2,
	"march": 3, "mar": 3, "marzo": 3, "marz": 3, "maerz": 3, "mrz": 3, "mars": 3,
	"april": 4, "apr": 4, "abril": 4, "abr": 4, "avril": 4, "avr": 4,
	"may": 5, "mayo": 5, "mai": 5,
	"june": 6, "jun": 6, "junio": 6, "juni": 6, "juin": 6,
	"july": 7, "jul": 7, "julio": 7, "juli": 7, "juillet": 7, "juil": 7,
	"august": 8, "aug": 8, "agosto": 8, "ago": 8, "aout": 8,
	"september": 9, "sep": 9, "sept": 9, "septiembre": 9, "septembre": 9,
	"october": 10, "oct": 10, "octubre": 10, "oktober": 10, "okt": 10, "octobre": 10,
	"november": 11, "nov": 11, "noviembre": 11, "novembre": 11,
	"december": 12, "dec": 12, "diciembre": 12, "dic": 12, "dezember": 12, "dez": 12, "decembre": 12,
}

// fillers are words in a time that carry nothing: names of days, articles.
var fillers = map[string]bool{"mon": true, "tue": true, "wed": true, "thu": true, "fri": true, "sat": true, "sun": true,
	"monday": true, "tuesday": true, "wednesday": true, "thursday": true, "friday": true, "saturday": true, "sunday": true,
	"lunes": true, "martes": true, "miercoles": true, "jueves": true, "viernes": true, "sabado": true, "domingo": true,
	"lun": true, "mie": true, "jue": true, "vie": true, "sab": true, "dom": true,
	"montag": true, "dienstag": true, "mittwoch": true, "donnerstag": true, "freitag": true, "samstag": true, "sonntag": true,
	"mo": true, "di": true, "mi": true, "do": true, "fr": true, "sa": true, "so": true,
	"lundi": true, "mardi": true, "mercredi": true, "jeudi": true, "vendredi": true, "samedi": true, "dimanche": true,
	"mer": true, "jeu": true, "ven": true, "sam": true, "dim": true,
	"a": true, "las": true, "den": true, "de": true, "del": true, "of": true, "um": true, "uhr": true, "le": true, "at": true, "h": true, "t": true, "th": true, "st": true, "nd": true, "rd": true}

var accents = strings.NewReplacer("á", "a", "à", "a", "â", "a", "ä", "a", "é", "e", "è", "e", "ê", "e", "ë", "e", "í", "i", "î", "i", "ï", "i",
	"ó", "o", "ô", "o", "ö", "o", "ú", "u", "ù", "u", "û", "u", "ü", "u", "ñ", "n", "ç", "c", "ß", "ss")

// foldWord makes a word comparable: lower case, no accents.
func foldWord(s string) string { return accents.Replace(strings.ToLower(s)) }
