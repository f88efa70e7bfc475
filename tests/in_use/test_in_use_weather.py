"""A year of weather: the open data, and every way a person's own table can be wrong."""

import numpy as np
import pytest

from airlab.files.weather_year import open_weather, read_weather, weather_years
from airlab.in_use.weather import weather_year
from airlab.words import InputError, from_si

HOURS = np.datetime64("2013-01-01T00") + np.arange(8760)
# Cold in January, warm in July; a day's swing.
NORTH = (
    10.0
    - 9.0 * np.cos(2 * np.pi * np.arange(8760) / 8760)
    + 3.0 * np.sin(2 * np.pi * np.arange(8760) / 24)
)
WIND = 4.0 + 2.0 * np.sin(np.arange(8760) / 7.0)


def _write(folder, header, *columns, name="mine.csv", mark=","):
    lines = [mark.join(header)] + [mark.join(map(str, row)) for row in zip(*columns)]
    path = folder / name
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


# The open years -------------------------------------------------------------------------


def test_the_open_year_has_the_means_published_for_it():
    # Means of the package's own rows: 12.48 °C and 5.127 m/s over 8706 rows, 3 winds blank.
    year = open_weather("new_york_jfk_2013")
    measured = ~year.filled
    assert year.licence == "CC0"
    assert measured.sum() == 8703
    assert year.temperature[measured].mean() == pytest.approx(12.485, abs=0.006)
    assert year.wind_speed[measured].mean() == pytest.approx(5.1268, abs=5e-4)
    assert year.hours == 8730 and year.whole_year and year.hemisphere == "north"
    assert 0.3 < np.nanmean(year.humidity) < 0.9
    assert "filled in from their neighbours: 27." in year.sentence()


def test_every_open_year_says_its_source_and_licence_and_is_calm_where_it_should_be():
    listed = weather_years()
    assert len(listed) == 2
    for name, line in listed.items():
        assert line["source"] and line["licence"] and line["left out"] and line["gaps"]
        assert open_weather(name).has_wind
    # Greensboro, typical year: 14.4 °C and 3.05 m/s in the file itself.
    calm = open_weather("greensboro_typical")
    assert (calm.hours, calm.filled.sum(), calm.notes) == (8760, 0, ())
    assert calm.temperature.mean() == pytest.approx(14.4, abs=0.05)
    assert calm.wind_speed.mean() == pytest.approx(3.05, abs=0.005)
    with pytest.raises(InputError, match="There are: new_york"):
        open_weather("atlantis")


# A table of one's own -------------------------------------------------------------------


def test_units_are_read_from_the_names_of_the_columns(tmp_path):
    fahrenheit, knots = from_si(NORTH, "F"), from_si(WIND, "kn")
    path = _write(
        tmp_path, ["Date/Time", "Temp (°F)", "Wind Speed (kts)", "RH (%)", "Wind Dir"],
        HOURS, fahrenheit.round(3), knots.round(3), np.full(8760, 70), np.full(8760, 270),
    )  # fmt: skip
    year = read_weather(path)
    assert np.allclose(year.temperature, NORTH, atol=1e-3)
    assert np.allclose(year.wind_speed, WIND, atol=1e-3)
    assert (year.humidity == 0.7).all() and (year.wind_from == 270).all()
    assert "°F" in year.sentence() and "knots" in year.sentence()


@pytest.mark.parametrize(
    ("header", "unit"),
    [("wind_mph", "mph"), ("wind (km/h)", "km/h"), ("Windspeed_kmh", "km/h"), ("wind_m_per_s", "m/s"),
     ("wind_speed", "m/s"), ("ws_kph", "km/h")],
)  # fmt: skip
def test_wind_columns(tmp_path, header, unit):
    path = _write(tmp_path, ["time", "temp_c", header], HOURS[:100], NORTH[:100],
                  from_si(WIND[:100], unit))  # fmt: skip
    assert np.allclose(read_weather(path).wind_speed, WIND[:100])


def test_semicolons_and_decimal_commas_and_day_first(tmp_path):
    stamps = [f"{d:02d}.03.2024 {h:02d}:00" for d in range(1, 29) for h in range(24)]
    values = [f"{v:.1f}".replace(".", ",") for v in NORTH[: len(stamps)]]
    path = _write(
        tmp_path, ["Datum Zeit", "Temperatur", "Wind_m_s"], stamps, values, values, mark=";"
    )
    with pytest.raises(InputError, match="no column for time"):
        read_weather(path)
    path = _write(tmp_path, ["Date", "Temperature", "Wind_m_s"], stamps, values,
                  ["4,5"] * len(stamps), mark=";")  # fmt: skip
    year = read_weather(path)
    assert year.at[-1] == np.datetime64("2024-03-28T23")
    assert year.temperature[0] == pytest.approx(float(values[0].replace(",", ".")))
    assert set(year.wind_speed) == {4.5}


def test_year_month_day_hour_and_offsets(tmp_path):
    rows = [(2013, 1, 1 + h // 24, h % 24) for h in range(48)]
    path = _write(
        tmp_path, ["year", "month", "day", "hour", "temp_c"], *zip(*rows), np.full(48, 5.0)
    )
    assert (np.diff(read_weather(path).at).astype(int) == 1).all()
    path = _write(tmp_path, ["Date", "Time", "temp_c"], ["3/1/2013"] * 24 + ["14/1/2013"] * 24,
                  [f"{h % 24}:00" for h in range(48)], np.full(48, 5.0))  # fmt: skip
    assert read_weather(path).at[[0, -1]].astype(str).tolist() == ["2013-01-03T00", "2013-01-14T23"]
    stamps = [f"2013-01-{1 + h // 24:02d}T{h % 24:02d}:00:00+00:00" for h in range(48)]
    path = _write(tmp_path, ["at", "temperature_c"], stamps, np.full(48, 5.0))
    assert read_weather(path).at[0] == np.datetime64("2013-01-01T00")


def test_a_wild_record_is_refused_and_named():
    # The known record of 468 m/s of the same open data, another airport.
    wind = WIND.copy()
    wind[1000] = 468.66
    year = weather_year(HOURS, NORTH, wind)
    assert year.wind_speed.max() < 7.0
    assert year.filled.sum() == 1 and year.filled[1000]
    assert year.wind_speed[1000] == pytest.approx(0.5 * (WIND[999] + WIND[1001]))
    assert "Refused winds: 1, the first 469 m/s at 2013-02-11T16" in year.sentence()
    cold = np.where(np.arange(8760) == 5, -273.0, NORTH)
    assert (
        "Refused temperatures: 1, the first −273 °C" in weather_year(HOURS, cold, WIND).sentence()
    )


def test_short_gaps_are_drawn_and_long_ones_left_out():
    keep = np.ones(8760, dtype=bool)
    keep[100:106] = False  # six hours
    keep[2000:2007] = False  # seven
    year = weather_year(HOURS[keep], NORTH[keep], WIND[keep])
    assert year.hours == 8760 - 7
    assert year.filled.sum() == 6
    drawn = np.interp(np.arange(100, 106), [99, 106], [NORTH[99], NORTH[106]])
    assert np.allclose(year.temperature[100:106], drawn)
    assert "in gaps longer than 6 hours: 7." in year.sentence()


def test_fahrenheit_given_as_celsius_is_seen_and_said():
    year = weather_year(HOURS, from_si(NORTH, "F"), WIND)
    assert np.allclose(year.temperature, NORTH)
    assert "cannot be °C; read as °F" in year.sentence()
    # A heat wave is no reason to change a year in °C.
    hot = NORTH + 15.0
    assert weather_year(HOURS, hot, WIND).notes == ()
    month = weather_year(HOURS[:700], np.full(700, 38.0), WIND[:700])
    assert month.temperature[0] == 38.0 and "name the column temperature_f" in month.sentence()
    assert np.allclose(weather_year(HOURS, NORTH + 273.15, WIND).temperature, NORTH)


def test_without_wind_it_is_warm_air_alone_and_said():
    year = weather_year(HOURS, NORTH)
    assert not year.has_wind and (year.wind_speed == 0.0).all()
    assert "only warm air drives the leaks" in year.sentence()


def test_seasons_are_told_by_temperature_and_not_by_the_month():
    south = weather_year(HOURS, np.roll(NORTH, 4380), WIND)
    north = weather_year(HOURS, NORTH, WIND)
    assert (north.hemisphere, south.hemisphere) == ("north", "south")
    assert south.heating().sum() == north.heating().sum()
    assert south.degree_hours() == pytest.approx(north.degree_hours())
    assert south.heating()[4380] and not south.heating()[:24].any()
    assert weather_year(HOURS, np.full(8760, 26.0), WIND).hemisphere == ""


def test_degree_hours_are_never_negative():
    hot = weather_year(HOURS, np.full(8760, 30.0), WIND)
    assert hot.degree_hours(20.0, 40.0) == 0.0
    assert not hot.heating().any()
    mild = weather_year(HOURS, np.where(np.arange(8760) < 10, 18.0, 22.0), WIND)
    assert mild.degree_hours(20.0, 40.0) == pytest.approx(20.0)


def test_rows_within_an_hour_are_averaged_and_north_winds_do_not_become_south():
    at = np.datetime64("2013-01-01T00:00") + 30 * np.arange(96)
    year = weather_year(at, np.tile([4.0, 6.0], 48), np.full(96, 3.0), np.tile([350.0, 10.0], 48))
    assert (year.temperature == 5.0).all()
    assert np.allclose(np.minimum(year.wind_from, 360 - year.wind_from), 0.0, atol=1e-6)
    assert "Rows beyond one an hour, averaged: 48" in year.sentence()


@pytest.mark.parametrize(
    ("at", "temperature", "match"),
    [
        (HOURS[:365] + np.arange(365) * 23, NORTH[:365], "a row every 24 hours"),
        (HOURS[:10], NORTH[:10], "At least a day"),
        (np.append(HOURS[:99], np.datetime64("2131-01-01T00")), NORTH[:100], "mistyped year"),
        (HOURS[:50], np.full(50, np.nan), "no temperature"),
        (np.full(50, "NaT", dtype="datetime64[h]"), NORTH[:50], "no row has a time"),
    ],
)
def test_what_is_no_weather_is_refused(at, temperature, match):
    with pytest.raises(InputError, match=match):
        weather_year(at, temperature, np.full(len(at), 3.0))


def test_bad_cells_and_missing_columns_are_named(tmp_path):
    cells = [f"{v:.2f}" for v in NORTH[:100]]
    cells[5], cells[9] = "warm", "NA"
    path = _write(tmp_path, ["at", "temperature_c", "wind_mph"], HOURS[:100], cells, WIND[:100])
    year = read_weather(path)
    assert year.filled.sum() == 2
    assert "that are no number: 1, such as 'warm'" in year.sentence()
    path = _write(tmp_path, ["at", "rain_mm"], HOURS[:100], WIND[:100])
    with pytest.raises(InputError, match=r"no column for temperature\. It has: at, rain_mm"):
        read_weather(path)
    with pytest.raises(InputError, match=r"nowhere\.csv is not there"):
        read_weather(tmp_path / "nowhere.csv")


def test_a_year_that_many_houses_share_cannot_be_written_to():
    with pytest.raises(ValueError, match="read-only"):
        open_weather().temperature[0] = 31.0


def test_part_of_a_year_says_so_and_both_unit_systems_are_spoken():
    spring = weather_year(HOURS[:2000], NORTH[:2000], WIND[:2000])
    assert not spring.whole_year
    assert "This is not a year" in spring.sentence()
    assert "°F" in spring.sentence("us") and "mph" in spring.sentence("us")


def test_whose_hours_says_where_when_and_how_many_were_filled_in():
    year = open_weather("new_york_jfk_2013")
    drawn = int(year.filled.sum())
    assert 20 < drawn < 80  # 8706 of 8730 hours were there, wind blank in 3: see the manifest
    assert year.whose == (
        f"New York, JFK airport, 2013: 8730 hours from 2013-01-01 to 2013-12-30 ({drawn} of them filled "
        "in from their neighbours), New York, at the sea; 40.6 north, CC0"
    )
    assert "filled" not in open_weather("greensboro_typical").whose


@pytest.mark.parametrize(
    ("others", "outside"),
    [
        (["Temperature Indoor (C)"], "Temperature Outdoor (C)"), (["Temp In"], "Temp Out"), (["tempIn"], "tempOut"),
        (["temp_dew"], "temp_c"), (["temperature_dew_point"], "temperature_air"), (["tempin"], "tempout"),
        (["temp_soil", "temp_feels_like", "temperature_apparent", "temp_wet_bulb"], "Temp in °C"),
        (["temp_c"], "outside_temp"),
    ],
)  # fmt: skip
def test_the_air_outside_is_taken_wherever_its_column_stands(tmp_path, others, outside):
    path = _write(
        tmp_path, ["Time", *others, outside], HOURS, *[np.full(8760, 21.0)] * len(others), NORTH
    )
    year = read_weather(path)
    assert np.allclose(year.temperature, NORTH) and "Took" not in year.sentence()


def test_two_that_may_be_outside_are_told_and_none_is_refused(tmp_path):
    path = _write(tmp_path, ["Time", "temp_low", "temp_high"], HOURS, NORTH, NORTH + 5.0)
    assert "Took temp_low as outside air; there is also temp_high." in read_weather(path).notes
    path = _write(tmp_path, ["Time", "Temp In (C)", "temp_dew"], HOURS, NORTH, NORTH)
    with pytest.raises(InputError, match=r"there is Temp In \(C\), temp_dew"):
        read_weather(path)


def test_humidity_inside_is_not_that_outside(tmp_path):
    path = _write(tmp_path, ["Time", "temp_c", "Humidity Indoor", "Humidity Outdoor"], HOURS, NORTH,
                  np.full(8760, 50), np.full(8760, 80))  # fmt: skip
    assert (read_weather(path).humidity == 0.8).all()


def test_a_wind_that_blows_nowhere_asks_for_its_unit(tmp_path):
    path = _write(tmp_path, ["time", "temp_c", "wind"], HOURS, NORTH, from_si(WIND, "km/h"))
    with pytest.raises(
        InputError, match=r"names no unit, and its mean is 14.4.*wind_kmh or wind_mph"
    ):
        read_weather(path)
    path = _write(tmp_path, ["time", "temp_c", "wind_m_s"], HOURS, NORTH, WIND + 6.0)
    assert np.allclose(read_weather(path).wind_speed, WIND + 6.0)


def test_times_by_twelve_hours_and_a_table_of_names_alone_are_refused_in_words(tmp_path):
    path = _write(tmp_path, ["Time", "temp_c"], [f"1/{1 + h // 24}/2023 {h % 12 or 12}:00 {'AP'[h % 24 > 11]}M"
                                               for h in range(48)], NORTH[:48])  # fmt: skip
    with pytest.raises(
        InputError, match=r"the first is '1/1/2023 12:00 AM'. Write times by 24 hours"
    ):
        read_weather(path)
    with pytest.raises(InputError, match="holds no rows"):
        read_weather(_write(tmp_path, ["Time", "temp_c"]))
