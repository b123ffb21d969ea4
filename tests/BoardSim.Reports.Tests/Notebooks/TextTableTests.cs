using BoardSim.Reports.Notebooks;

namespace BoardSim.Reports.Tests.Notebooks;

public class TextTableTests
{
    [Fact]
    public void First_column_stands_left_and_numbers_right() =>
        Assert.Equal("""
            Ripple    Healthy  Aged
            --------  -------  ----
            at 1 ohm      2 V  12 V

            """.ReplaceLineEndings("\n"), new TextTable("Ripple", "Healthy", "Aged").Add("at 1 ohm", "2 V", "12 V").ToString());

    [Fact]
    public void A_row_of_another_length_is_refused() =>
        Assert.Contains("2 columns", Assert.Throws<ReportException>(() => new TextTable("a", "b").Add("1")).Message, StringComparison.Ordinal);
}
