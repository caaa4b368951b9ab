#!/usr/bin/python3
# SPDX-License-Identifier: MIT
"""Writes sun_places.csv: the sun at 1000 random times and places, by PyEphem (Debian: python3-ephem), without air.

Usage: sun_places.py > sun_places.csv
"""
import datetime
import math
import random

import ephem

EPOCH = datetime.datetime(1970, 1, 1)


def main():
    random.seed(20261201)
    first, last = ((datetime.datetime(*day) - EPOCH).total_seconds() for day in ((1950, 1, 1), (2100, 12, 31)))
    print("utc_seconds,latitude_deg,longitude_deg,altitude_m,elevation_deg,azimuth_deg,source")
    for k in range(1000):
        seconds = random.randint(int(first), int(last))
        site = ephem.Observer()
        site.pressure = 0
        latitude = round(math.degrees(math.asin(random.uniform(-1, 1))), 4)
        longitude, altitude = round(random.uniform(-180, 180), 4), random.randint(0, 3000)
        site.lat, site.lon, site.elevation = str(latitude), str(longitude), altitude
        site.date = ephem.Date(EPOCH + datetime.timedelta(seconds=seconds))
        sun = ephem.Sun(site)
        source = "PyEphem 4.1.4 (libastro; VSOP87) without air" if k == 0 else ""
        print(f"{seconds},{latitude},{longitude},{altitude},{math.degrees(sun.alt):.5f},{math.degrees(sun.az):.5f},{source}")


main()
