package org.evenstamp.output.page;

import java.io.File;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.logging.Level;
import java.util.stream.Stream;
import org.junit.jupiter.api.Assumptions;
import org.openqa.selenium.By;
import org.openqa.selenium.Keys;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.chrome.ChromeOptions;
import org.openqa.selenium.interactions.Actions;
import org.openqa.selenium.logging.LogType;
import org.openqa.selenium.logging.LoggingPreferences;

/** A real browser without a window and without a network, with a report open in it. */
public final class Browser implements AutoCloseable {
    /** Set to "required" where a missing browser must fail the test rather than skip it. */
    private static final String WISH = "EVENSTAMP_BROWSER";

    final ChromeDriver driver;

    private Browser(ChromeDriver driver) {
        this.driver = driver;
    }

    public static Browser start(boolean dark) {
        Optional<File> browser = program("chromium", "chromium-browser", "google-chrome");
        Optional<File> remote = program("chromedriver");
        if (browser.isEmpty() || remote.isEmpty()) {
            String message = "the report was not opened in a browser: chromium and chromedriver are not on the path"
                    + " (Debian: apt-get install chromium chromium-driver)";
            if ("required".equals(System.getenv(WISH))) {
                throw new AssertionError(message);
            }
            System.out.println("skipped: " + message);
            Assumptions.abort(message);
        }
        ChromeOptions options = new ChromeOptions();
        options.setBinary(browser.orElseThrow());
        options.addArguments(
                "--headless=new",
                "--no-sandbox", // the page under test is ours, and containers lack what the sandbox needs
                "--disable-dev-shm-usage",
                "--disable-background-networking",
                "--host-resolver-rules=MAP * ~NOTFOUND",
                "--window-size=1400,1000");
        if (dark) {
            options.addArguments("--blink-settings=preferredColorScheme=0");
        }
        LoggingPreferences logs = new LoggingPreferences();
        logs.enable(LogType.BROWSER, Level.ALL);
        options.setCapability("goog:loggingPrefs", logs);
        // Named so that the library does not go looking for one, which would need a network.
        System.setProperty("webdriver.chrome.driver", remote.orElseThrow().getPath());
        return new Browser(new ChromeDriver(options));
    }

    private static Optional<File> program(String... names) {
        String path = Objects.requireNonNullElse(System.getenv("PATH"), "");
        return Stream.of(names)
                .flatMap(name -> List.of(path.split(File.pathSeparator, -1)).stream()
                        .filter(place -> !place.isEmpty())
                        .map(place -> Path.of(place, name)))
                .filter(Files::isExecutable)
                .map(Path::toFile)
                .findFirst();
    }

    /** Opens a page and waits until its map is drawn. */
    public void open(Path page) {
        URI address = page.toUri();
        driver.get(address.toString());
        until("return document.documentElement.dataset.ready === 'yes'");
    }

    /** Waits until a script says true. */
    public void until(String script, Object... arguments) {
        long end = System.nanoTime() + Duration.ofSeconds(60).toNanos();
        while (!Boolean.TRUE.equals(driver.executeScript(script, arguments))) {
            if (System.nanoTime() > end) {
                throw new AssertionError("still not true after a minute: " + script + "; console: " + console());
            }
            try {
                Thread.sleep(20);
            } catch (InterruptedException e) {
                throw new AssertionError(e);
            }
        }
    }

    public Object js(String script, Object... arguments) {
        return Objects.requireNonNullElse(driver.executeScript(script, arguments), "");
    }

    double number(String script, Object... arguments) {
        return ((Number) js(script, arguments)).doubleValue();
    }

    String text(String id) {
        return el(id).getText();
    }

    public WebElement el(String id) {
        return driver.findElement(By.id(id));
    }

    String data(String id, String name) {
        return String.valueOf(js("return document.getElementById(arguments[0]).dataset[arguments[1]] || ''", id, name));
    }

    /** Chooses a field by the listbox, as a keyboard or a pointer would. */
    public void choose(String field) {
        js("const box = el('field'); box.value = arguments[0];" + "box.dispatchEvent(new Event('change'))", field);
        until("return document.documentElement.dataset.shown === arguments[0]", field);
    }

    /** Chooses an option of a list. */
    public void select(String id, String value) {
        js("const box = el(arguments[0]); box.value = arguments[1]; box.dispatchEvent(new Event('change'))", id, value);
    }

    /** Types into a field and leaves it. */
    void type(WebElement input, String text) {
        input.clear();
        input.sendKeys(text, Keys.TAB);
    }

    /** Moves the pointer to the centre of a tile. */
    void pointAt(int column, int row) {
        int[] at = pixelOf(column, row);
        new Actions(driver, Duration.ZERO).moveToLocation(at[0], at[1]).perform();
    }

    int[] pixelOf(int column, int row) {
        List<?> at = (List<?>) js(
                "el('map').scrollIntoView({block: 'center'}); const box = el('map').getBoundingClientRect();"
                        + "const p = stampMap.pixelOf({column: arguments[0], row: arguments[1]});"
                        + "return [box.left + p[0], box.top + p[1]]",
                column,
                row);
        return new int[] {
            (int) Math.round(((Number) at.get(0)).doubleValue()), (int) Math.round(((Number) at.get(1)).doubleValue())
        };
    }

    /** Shows tiles around one large enough to point at. */
    void near(int column, int row) {
        js(
                "stampMap.view.setCenter(stampMap.centreOf({column: arguments[0], row: arguments[1]}));"
                        + "stampMap.view.setResolution(grid.side_um / 30); stampMap.map.renderSync()",
                column,
                row);
    }

    /** Presses keys while the map has the focus. */
    void press(CharSequence... keys) {
        el("map").sendKeys(keys);
    }

    /** Returns what the console says beside the performance hints of the browser. */
    public List<String> console() {
        return driver.manage().logs().get(LogType.BROWSER).getAll().stream()
                .map(entry -> entry.getLevel() + " " + entry.getMessage())
                .filter(line -> !line.contains("willReadFrequently"))
                .toList();
    }

    /** Prints the page and returns the document's size in bytes. */
    int printed() {
        Map<String, Object> answer = driver.executeCdpCommand("Page.printToPDF", Map.of());
        return String.valueOf(answer.get("data")).length() * 3 / 4;
    }

    @Override
    public void close() {
        driver.quit();
    }
}
