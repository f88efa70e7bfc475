@echo off
rem Windows: double-click, or start.cmd in a terminal.
where py >nul 2>nul
if %errorlevel%==0 (py -3 "%~dp0start.py" %*) else (python "%~dp0start.py" %*)
if errorlevel 1 pause
