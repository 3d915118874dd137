@echo off
rem Creates the task; it runs as the user who runs this file, also when nobody is logged on.
schtasks /Create /F /TN "Rotor wear month" /SC MONTHLY /D 2 /ST 03:00 /NP /RU "%USERNAME%" /TR "cmd /c rotorwear report C:\fleet\fleet.yaml --as-of last-month-end --out C:\fleet\reports --keep 36 --fail-on act,shorten,alert,quality --log json"
