@echo off
rem Starts an unpacked evenstamp on Windows, with the Java beside it, that of JAVA_HOME, or the one on the path: 17 or newer.
setlocal
set "here=%~dp0"
set "java=java"
if defined JAVA_HOME set "java=%JAVA_HOME%\bin\java"
if exist "%here%runtime\bin\java.exe" set "java=%here%runtime\bin\java"
for %%j in ("%here%evenstamp-tool-*.jar") do set "jar=%%j"
if not defined jar (
    echo evenstamp: %here% is not a whole copy of evenstamp; unpack the archive again 1>&2
    exit /b 3
)
"%java%" -Djava.awt.headless=true -Xlog:disable -Xlog:all=error:stderr %EVENSTAMP_JAVA_OPTS% -cp "%jar%;%here%lib\*" org.evenstamp.tool.Main %*
exit /b %ERRORLEVEL%
